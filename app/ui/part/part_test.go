package part

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

func themed(t *testing.T) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
}

func shown(w fyne.Widget) []*canvas.Text {
	var list []*canvas.Text
	for _, o := range test.WidgetRenderer(w).Objects() {
		if c, ok := o.(*canvas.Text); ok && c.Text != "" {
			list = append(list, c)
		}
	}
	return list
}

func words(w fyne.Widget) []string {
	var list []string
	for _, c := range shown(w) {
		list = append(list, c.Text)
	}
	return list
}

func TestSplitSigma(t *testing.T) {
	t.Parallel()
	cases := []struct{ text, figure, sigma string }{
		{"057° ± 0.7", "057°", "± 0.7"},
		{"057°", "057°", ""},
		{"1 240 m ± 20", "1 240 m", "± 20"},
		{"", "", ""},
	}
	for _, c := range cases {
		if f, s := SplitSigma(c.text); f != c.figure || s != c.sigma {
			t.Errorf("%q: got %q, %q, want %q, %q", c.text, f, s, c.figure, c.sigma)
		}
	}
}

func TestFigureStandsAtTheRight(t *testing.T) {
	themed(t)
	f := NewFigure("Residual")
	f.Resize(fyne.NewSize(200, 20))
	for _, text := range []string{"3.2 m ± 1.1", "057°", "1 240 m"} {
		f.SetText(text)
		var right float32
		for _, c := range shown(f) {
			right = max(right, c.Position().X+c.Size().Width)
		}
		if right < 199.5 || right > 200.5 {
			t.Errorf("%q: got a right edge at %v, want 200", text, right)
		}
	}
	if got := words(f); !slices.Equal(got, []string{"Residual", "1 240 m"}) {
		t.Errorf("words: got %q, want the label and the last figure", got)
	}
}

func TestToolActsByPointerAndKey(t *testing.T) {
	themed(t)
	taps, hint := 0, ""
	tool := NewTool(look.IconUndo, "Undo move mark · Ctrl+Z", func() { taps++ })
	tool.OnHint = func(s string) { hint = s }
	test.NewTempWindow(t, tool)
	test.Tap(tool)
	tool.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	tool.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	tool.TypedKey(&fyne.KeyEvent{Name: fyne.KeyA})
	if taps != 3 {
		t.Errorf("taps: got %d, want 3", taps)
	}
	tool.MouseIn(nil)
	if want := "Undo move mark · Ctrl+Z"; hint != want {
		t.Errorf("hint under the pointer: got %q, want %q", hint, want)
	}
	tool.MouseOut()
	if hint != "" {
		t.Errorf("hint after the pointer left: got %q, want none", hint)
	}
	tool.Disable()
	test.Tap(tool)
	tool.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if taps != 3 {
		t.Errorf("taps while disabled: got %d, want 3", taps)
	}
}

func TestToolShowsWhetherItIsOn(t *testing.T) {
	themed(t)
	tool := NewEntry(look.IconRoute, "Route", "", nil)
	bar := test.WidgetRenderer(tool).(*toolRenderer).bar
	accent := look.Light().Accent
	for _, on := range []bool{true, false} {
		tool.SetOn(on)
		if got := bar.FillColor == accent; got != on || tool.On() != on {
			t.Errorf("on %v: got an accent bar %v and On %v", on, got, tool.On())
		}
	}
}

func TestChooser(t *testing.T) {
	themed(t)
	var chosen []int
	c := NewChooser([]string{"Grid", "Magnetic", "True"}, func(i int) { chosen = append(chosen, i) })
	c.Resize(fyne.NewSize(300, 28))
	test.TapAt(c, fyne.NewPos(150, 10))
	test.TapAt(c, fyne.NewPos(150, 10)) // holds already
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight}) // at the end
	c.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	c.SetChosen(0) // no call
	c.Disable()
	test.TapAt(c, fyne.NewPos(290, 10))
	if want := []int{1, 2, 1}; !slices.Equal(chosen, want) || c.Chosen() != 0 {
		t.Errorf("got calls %v and choice %d, want %v and 0", chosen, c.Chosen(), want)
	}
}

func TestWrapKeepsEveryWord(t *testing.T) {
	themed(t)
	const text = "Click a crossing of two grid lines on the sheet, then type its reference."
	for _, width := range []float32{60, 120, 240, 2000} {
		lines := Wrap(text, width, 13, fyne.TextStyle{})
		if got := strings.Join(lines, " "); got != text {
			t.Errorf("width %v: got %q, want every word in order", width, got)
		}
		for _, l := range lines {
			if got := fyne.MeasureText(l, 13, fyne.TextStyle{}).Width; got > width && strings.Contains(l, " ") {
				t.Errorf("width %v: got a line of %v: %q", width, got, l)
			}
		}
	}
	if got := Wrap("every 1\u2009000 m ± 4 m", 1, 13, fyne.TextStyle{}); !slices.Equal(got, []string{"every", "1\u2009000", "m", "±\u00a04", "m"}) {
		t.Errorf("figures: got %q, want each on one line", got)
	}
	if got := Wrap("", 100, 13, fyne.TextStyle{}); !slices.Equal(got, []string{""}) {
		t.Errorf("no text: got %q, want one empty line", got)
	}
}

// TestSentenceGrowsInABox narrows a panel and expects what stands below the
// sentence to make room for its further lines.
func TestSentenceGrowsInABox(t *testing.T) {
	themed(t)
	s := NewSentence("Two points fit any sheet. Add a third before you trust a bearing.", Caution)
	below := widget.NewLabel("below")
	box := container.NewVBox(s, below)
	w := test.NewTempWindow(t, box)
	for _, width := range []float32{600, 180, 600} {
		w.Resize(fyne.NewSize(width, 300))
		box.Refresh() // a window does this by itself where a least size has changed
		var bottom float32
		for _, c := range shown(s) {
			bottom = max(bottom, c.Position().Y+c.Size().Height)
		}
		if bottom > s.Size().Height || below.Position().Y < s.Position().Y+s.Size().Height {
			t.Errorf("width %v: got words to %v in a height of %v, what is below at %v", width, bottom, s.Size().Height, below.Position().Y)
		}
	}
}

func TestFlowBeginsANewLine(t *testing.T) {
	themed(t)
	box := container.New(NewFlow(), NewChip("sheet unproved", Caution), NewChip("no redundancy", Caution), NewChip("outside area", Caution))
	box.Resize(fyne.NewSize(1000, 100))
	one := box.MinSize().Height
	box.Resize(fyne.NewSize(150, 100))
	if got := box.MinSize().Height; got < 3*one {
		t.Errorf("three chips in 150 DIP: got a height of %v, want at least 3 × %v", got, one)
	}
	for _, o := range box.Objects {
		if o.Position().X+o.Size().Width > 150 {
			t.Errorf("chip at %v of %v leaves the width of 150", o.Position(), o.Size())
		}
	}
}

func TestHintLine(t *testing.T) {
	themed(t)
	h := NewHintLine("Drag on the sheet to read a bearing.")
	h.SetHint("Undo")
	if got := words(h); !slices.Equal(got, []string{"Undo"}) {
		t.Errorf("got %q, want the hint", got)
	}
	h.SetHint("")
	if got := words(h); !slices.Equal(got, []string{"Drag on the sheet to read a bearing."}) {
		t.Errorf("got %q, want the standing text", got)
	}
}

// TestPartsFollowTheTheme changes the variant and expects new colours in
// every part.
func TestPartsFollowTheTheme(t *testing.T) {
	themed(t)
	heading, chip, sentence := NewHeading("Control points"), NewChip("sheet unproved", Caution), NewSentence("Next.", Good)
	strip := NewStrip(NewTextTool(look.IconLeg, "Keep as leg", "", nil))
	panel := NewSurface(container.NewVBox(heading, chip, sentence, NewHair(), strip), Left|Top, 8)
	w := test.NewTempWindow(t, panel)
	fyne.CurrentApp().Settings().SetTheme(look.New(look.DarkMode))
	w.Resize(fyne.NewSize(320, 300))
	for _, c := range []struct {
		name string
		w    fyne.Widget
		want any
	}{
		{"heading", heading, look.Dark().Ink}, {"chip", chip, look.Dark().Caution}, {"sentence", sentence, look.Dark().Good},
	} {
		c.w.Refresh()
		if got := shown(c.w)[0].Color; got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}
