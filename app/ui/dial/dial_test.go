package dial

import (
	"image"
	"image/color"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/look"
	"legwright/app/units"
)

func sample() Figures {
	return Figures{
		Set: "055°", SetLabel: "Set on the housing (magnetic)",
		Grid: "057° ± 0.7", Magnetic: "055° ± 0.9", Back: "237°", BackMagnetic: "235°", True: "055.6° ± 0.7",
		Point: "ENE", Distance: "1 240 m ± 20", GMA: "2° east", Rule: "grid to magnetic, take off 2",
		Time: "19 min", Paces: "794", Flags: []string{"sheet unproved"}, Angle: units.Degrees(55),
	}
}

func newDial(t *testing.T) (*Dial, fyne.Window) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	d := New()
	w := test.NewTempWindow(t, d)
	w.Resize(fyne.NewSize(320, 520))
	return d, w
}

// texts lists what the dial shows as words, chips included.
func texts(d *Dial) []string {
	var words []string
	for _, o := range test.WidgetRenderer(d).Objects() {
		if t, ok := o.(*canvas.Text); ok && t.Text != "" {
			words = append(words, t.Text)
		}
	}
	for _, o := range d.flags.Objects {
		words = append(words, o.(interface{ Text() string }).Text())
	}
	return words
}

func has(words []string, want string) bool {
	for _, w := range words {
		if w == want {
			return true
		}
	}
	return false
}

func TestDisplayShowsEveryFigure(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	got := texts(d)
	for _, want := range []string{
		"055°", "Set on the housing (magnetic)", "057°", "± 0.7", "± 0.9", "237°", "235°", "ENE", "1 240 m", "± 20",
		"GMA 2° east: grid to magnetic, take off 2", "sheet unproved", "360°",
	} {
		if !has(got, want) {
			t.Errorf("got %q, want %q among them", got, want)
		}
	}
	if has(got, "055.6°") {
		t.Errorf("got the true bearing in %q, want it only on request", got)
	}
}

func TestTrueOnRequest(t *testing.T) {
	d, _ := newDial(t)
	var told []bool
	d.OnTrue = func(show bool) { told = append(told, show) }
	d.Display(sample())
	test.Tap(d.truth)
	if got := texts(d); !has(got, "055.6°") || !has(got, "True") {
		t.Errorf("after the tap: got %q, want the true bearing", got)
	}
	test.Tap(d.truth)
	if got := texts(d); has(got, "055.6°") {
		t.Errorf("after the second tap: got %q, want no true bearing", got)
	}
	if len(told) != 2 || !told[0] || told[1] {
		t.Errorf("OnTrue: got %v, want true, false", told)
	}
}

// TestUnknownFiguresAreMarked empties what a blackout zone takes away: the
// place shows a dash and not the last figure.
func TestUnknownFiguresAreMarked(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	f := sample()
	f.Magnetic, f.BackMagnetic, f.GMA, f.Rule, f.NoNeedle = "", "", "", "", true
	d.Display(f)
	got := texts(d)
	dashes := strings.Count(strings.Join(got, "\n"), "–")
	if dashes != 2 || has(got, "235°") || has(got, "± 0.9") {
		t.Errorf("got %q, want two dashes and no magnetic figure", got)
	}
	if n := needlePixels(d); n != 0 {
		t.Errorf("got %d pixels of a needle, want none", n)
	}
}

func TestClearSaysWhatToDo(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	d.Clear("Choose a leg.")
	got := texts(d)
	if !has(got, "Choose a leg.") || has(got, "055°") || has(got, "sheet unproved") || has(got, "Grid") {
		t.Errorf("got %q, want the hint and no figure", got)
	}
	if n := needlePixels(d); n != 0 {
		t.Errorf("got %d pixels of a needle, want none", n)
	}
	d.Display(sample())
	if got := texts(d); has(got, "Choose a leg.") || !has(got, "055°") {
		t.Errorf("after the next reading: got %q, want the figures", got)
	}
}

func needlePixels(d *Dial) (n int) {
	im := d.picture(236, 236).(*image.RGBA)
	want := look.Current().Dial.Needle
	for y := range 236 {
		for x := range 236 {
			if im.RGBAAt(x, y) == (color.RGBA{R: want.R, G: want.G, B: want.B, A: 0xff}) {
				n++
			}
		}
	}
	return n
}

// TestNothingJumps keeps the height the same from empty through a reading to
// flags of one line.
func TestNothingJumps(t *testing.T) {
	d, _ := newDial(t)
	want := d.MinSize()
	f := sample()
	for name, flags := range map[string][]string{"no flag": nil, "one flag": {"sheet unproved"}, "two": {"sheet unproved", "no redundancy"}} {
		f.Flags = flags
		d.Display(f)
		if got := d.MinSize(); got != want {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	if want.Width > 300 || want.Height > 500 {
		t.Errorf("least size: got %v, want at most 300 by 500 to leave room for the posts at 1280×800", want)
	}
}

// TestFiguresStayApart lays out the longest figures a circle can give and
// looks for texts that cover each other or leave the panel.
func TestFiguresStayApart(t *testing.T) {
	d, _ := newDial(t)
	f := sample()
	f.Circle, f.Set, f.Grid, f.Magnetic = units.Mils6400, "6390 mil", "6390 mil ± 16", "6380 mil ± 18"
	f.Back, f.BackMagnetic, f.GMA, f.Rule = "3190 mil", "3180 mil", "230 mil west", "grid to magnetic, add 230"
	f.Distance, f.Point, f.Time, f.Paces = "12 240 m ± 20", "NNW", "3 h 05", "7834"
	d.Display(f)
	d.ShowTrue(true)
	d.Resize(fyne.NewSize(300, d.MinSize().Height))
	var boxes []*canvas.Text
	for _, o := range test.WidgetRenderer(d).Objects() {
		if c, ok := o.(*canvas.Text); ok && c.Text != "" {
			boxes = append(boxes, c)
		}
	}
	for i, a := range boxes {
		if a.Position().X < 0 || a.Position().X+a.Size().Width > 300 {
			t.Errorf("%q: got %v to %v, want within 0 to 300", a.Text, a.Position().X, a.Position().X+a.Size().Width)
		}
		for _, b := range boxes[i+1:] {
			if covers(a, b) {
				t.Errorf("%q at %v %v and %q at %v %v cover each other", a.Text, a.Position(), a.Size(), b.Text, b.Position(), b.Size())
			}
		}
	}
}

// covers compares the middle halves of the boxes' heights: the space around
// letters may overlap.
func covers(a, b *canvas.Text) bool {
	ax, ay, bx, by := a.Position().X, a.Position().Y, b.Position().X, b.Position().Y
	ah, bh := a.Size().Height, b.Size().Height
	apart := ax+a.Size().Width <= bx || bx+b.Size().Width <= ax ||
		ay+ah*0.75 <= by+bh*0.25 || by+bh*0.75 <= ay+ah*0.25
	return !apart
}

func TestFaceFollowsTheTheme(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	light := d.picture(236, 236).(*image.RGBA).RGBAAt(118, 70)
	fyne.CurrentApp().Settings().SetTheme(look.New(look.DarkMode))
	dark := d.picture(236, 236).(*image.RGBA).RGBAAt(118, 70)
	if light == dark || dark.R > 0x60 {
		t.Errorf("plate: got %v in light and %v in dark, want a dark plate in dark", light, dark)
	}
}

// BenchmarkDisplay times the widget's own part of a step of a drag with the
// face drawn, without the upload of its texture.
func BenchmarkDisplay(b *testing.B) {
	test.NewTempApp(b).Settings().SetTheme(look.New(look.LightMode))
	d := New()
	d.Resize(fyne.NewSize(320, 520))
	test.WidgetRenderer(d)
	f, i := sample(), 0
	for b.Loop() {
		i++
		f.Angle = units.Degrees(float64(i) * 0.7)
		f.Set, f.Grid = units.WholeDegrees.Figure(f.Angle), units.WholeDegrees.Figure(f.Angle)+" ± 0.7"
		d.Display(f)
		d.picture(354, 354)
	}
}
