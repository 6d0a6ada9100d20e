package look

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"image/color"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	face "legwright/assets/look"
)

// TestThemeAnswersEveryColourName asks for every colour name that this version
// of Fyne declares, read from its source, so that a new one cannot slip in with
// the stock look.
func TestThemeAnswersEveryColourName(t *testing.T) {
	t.Parallel()
	names := fyneNames(t, "color.go", "ThemeColorName")
	if len(names) < 25 {
		t.Fatalf("got %d colour names from Fyne's source, want 25 or more", len(names))
	}
	p := Light()
	for _, name := range names {
		if name == string(theme.ColorNameScrollBarBackground) { // transparent, as Fyne's own
			continue
		}
		c := fyne.ThemeColorName(name)
		_, surface := p.surface(c)
		_, mark := p.mark(c)
		if surface == mark {
			t.Errorf("colour %q: got surface %v and mark %v, want exactly one", name, surface, mark)
		}
	}
}

// TestThemeAnswersEverySizeThatShows does the same for sizes, but for those of
// windows inside windows, which the bench does not use. Corners are square.
func TestThemeAnswersEverySizeThatShows(t *testing.T) {
	t.Parallel()
	for _, name := range fyneNames(t, "size.go", "ThemeSizeName") {
		if strings.HasPrefix(name, "window") {
			continue
		}
		s, ok := size(fyne.ThemeSizeName(name))
		if square := strings.HasSuffix(name, "Radius"); !ok || square != (s == 0) || s < 0 {
			t.Errorf("size %q: got %v, %v, want a size of our own, 0 for a radius alone", name, s, ok)
		}
	}
}

// fyneNames lists the constants of a type in a file of Fyne's theme package.
func fyneNames(t *testing.T, file, kind string) []string {
	t.Helper()
	dir, err := exec.Command("go", "list", "-f", "{{.Dir}}", "fyne.io/fyne/v2/theme").Output()
	if err != nil {
		t.Skipf("the go command cannot say where Fyne's source lies: %v", err)
	}
	path := filepath.Join(strings.TrimSpace(string(dir)), file)
	parsed, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		t.Fatalf("parse: %v", err)
	}
	var names []string
	ast.Inspect(parsed, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		typ, isSel := spec.Type.(*ast.SelectorExpr)
		lit, isLit := spec.Values[0].(*ast.BasicLit)
		if isSel && isLit && typ.Sel.Name == kind {
			if s, err := strconv.Unquote(lit.Value); err == nil {
				names = append(names, s)
			}
		}
		return true
	})
	return names
}

func TestModeChoosesVariant(t *testing.T) {
	t.Parallel()
	cases := []struct {
		mode Mode
		asks fyne.ThemeVariant
		dark bool
	}{
		{Follow, theme.VariantLight, false},
		{Follow, theme.VariantDark, true},
		{LightMode, theme.VariantDark, false},
		{DarkMode, theme.VariantLight, true},
	}
	for _, c := range cases {
		th := New(c.mode)
		want := Light()[Paper]
		if c.dark {
			want = Dark()[Paper]
		}
		got := th.Color(theme.ColorNameBackground, c.asks)
		if got != color.Color(want) || th.IsDark(c.asks) != c.dark {
			t.Errorf("mode %d where the desktop asks for %d: got %v, dark %v; want %v, dark %v", c.mode, c.asks, got, th.IsDark(c.asks), want, c.dark)
		}
	}
}

func TestCurrentFollowsTheApplication(t *testing.T) {
	app := test.NewTempApp(t)
	for mode, want := range map[Mode]Palette{LightMode: Light(), DarkMode: Dark()} {
		app.Settings().SetTheme(New(mode))
		if got := Current(); got != want {
			t.Errorf("mode %d: got paper %v, want %v", mode, got[Paper], want[Paper])
		}
	}
}

func TestFontsAreB612(t *testing.T) {
	t.Parallel()
	th := New(LightMode)
	cases := []struct {
		name  string
		style fyne.TextStyle
		want  []byte
	}{
		{"plain", fyne.TextStyle{}, face.Regular()},
		{"bold", fyne.TextStyle{Bold: true}, face.Bold()},
		{"italic", fyne.TextStyle{Italic: true}, face.Italic()},
		{"bold italic", fyne.TextStyle{Bold: true, Italic: true}, face.BoldItalic()},
		{"mono", fyne.TextStyle{Monospace: true}, face.Mono()},
	}
	for _, c := range cases {
		if got := th.Font(c.style).Content(); !bytes.Equal(got, c.want) {
			t.Errorf("%s: got a face of %d bytes, want B612's %d", c.name, len(got), len(c.want))
		}
	}
}

// TestFiguresKeepTheirWidth measures figures as Fyne lays them out: a bearing
// may not push what stands beside it while it changes.
func TestFiguresKeepTheirWidth(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(New(LightMode))
	for _, style := range []fyne.TextStyle{{}, {Bold: true}} {
		for _, name := range []fyne.ThemeSizeName{theme.SizeNameText, SizeFigure, SizeSet} {
			want := fyne.MeasureText("000°", theme.Size(name), style).Width
			for _, s := range []string{"111°", "247°", "359°", "068°"} {
				if got := fyne.MeasureText(s, theme.Size(name), style).Width; got != want {
					t.Errorf("%q at %s: got %v DIP, want %v as for 000°", s, name, got, want)
				}
			}
		}
	}
}

func TestEveryIconConstantIsDrawn(t *testing.T) {
	t.Parallel()
	for _, name := range []fyne.ThemeIconName{
		IconSave, IconUndo, IconRedo, IconMark, IconFit, IconZoomIn, IconZoomOut, IconFold, IconUnfold, IconDelete,
		IconHelp, IconCaution, IconFault, IconInfo, IconSheet, IconRoute, IconAdd, IconRemove, IconClose, IconConfirm,
		IconUp, IconDown, IconLeft, IconRight, IconMore, IconSearch, IconFolder, IconDocument, IconCopy,
	} {
		if IconIn(name, theme.ColorNameForeground) == nil {
			t.Errorf("icon %q: got nothing, want a drawing", name)
		}
	}
	if got := IconIn("no such icon", theme.ColorNameForeground); got != nil {
		t.Errorf("unknown icon: got %v, want nil", got)
	}
}

// TestIconsFollowTheTheme compares an icon as it is kept with the drawing coloured anew,
// under each theme, whichever came before.
func TestIconsFollowTheTheme(t *testing.T) {
	app := test.NewTempApp(t)
	drawing, err := face.Icon(string(IconRoute))
	if err != nil {
		t.Fatal(err)
	}
	light, dark := New(LightMode), New(DarkMode)
	seen := map[string]bool{}
	for _, th := range []fyne.Theme{light, dark, light, theme.DefaultTheme()} {
		app.Settings().SetTheme(th)
		for _, ink := range []fyne.ThemeColorName{theme.ColorNameForeground, theme.ColorNameDisabled} {
			want, err := canvas.RecolorSVG(drawing, theme.Color(ink))
			if err != nil {
				t.Fatal(err)
			}
			for range 2 {
				if got := IconIn(IconRoute, ink).Content(); !bytes.Equal(got, want) {
					t.Errorf("%T, %s: got %s, want %s", th, ink, got, want)
				}
			}
			seen[string(want)] = true
		}
		if got := th.Icon(IconRoute); th != theme.DefaultTheme() && !bytes.Equal(got.Content(), IconIn(IconRoute, theme.ColorNameForeground).Content()) {
			t.Errorf("the theme's own icon is %s", got.Content())
		}
	}
	if len(seen) < 4 {
		t.Errorf("%d colours in all: the test tries too few", len(seen))
	}
}

func TestFyneIconsAreOurs(t *testing.T) {
	t.Parallel()
	th := New(LightMode)
	for fynes, ours := range map[fyne.ThemeIconName]string{
		theme.IconNameCancel: "close", theme.IconNameCheckButtonChecked: "box-on", theme.IconNameRadioButton: "round",
		theme.IconNameArrowDropDown: "down", theme.IconNameMenuExpand: "right", theme.IconNameWarning: "caution",
		theme.IconNameFolder: "folder", theme.IconNameDocumentSave: "save", IconRoute: "route",
	} {
		want := theme.NewThemedResource(fyne.NewStaticResource(ours+".svg", nil)).Name()
		if got := th.Icon(fynes).Name(); got != want {
			t.Errorf("icon %q: got %q, want %q", fynes, got, want)
		}
	}
}
