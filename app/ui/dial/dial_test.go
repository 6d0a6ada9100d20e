package dial

import (
	"bytes"
	"image"
	"image/color"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/lettering"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/look"
	"legwright/app/units"
)

func sample() Figures {
	return Figures{
		Set: "055°", SetLabel: "Set on the housing (magnetic)",
		Texts: Texts{
			Grid: "057° ± 0.7", Magnetic: "055° ± 0.9", Back: "237°", BackMagnetic: "235°", True: "055.6° ± 0.7",
			GMA: "2° east", Rule: "grid to magnetic, take off 2", Time: "19 min", Paces: "794",
		},
		Point: "ENE", Distance: "1 240 m ± 20", Notes: []string{"sheet unchecked"},
		Face: housing.State{At: units.Degrees(55), Needle: true, Gate: true},
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

// pages are what the dial writes beside the face and under it.
func pages(d *Dial) []word {
	_, y := d.faceSide(d.Size())
	return append(d.beside().words, d.beneath(d.Size().Width, y).words...)
}

// texts lists what the dial shows as words, cautions and its button included.
func texts(d *Dial) []string {
	var words []string
	for _, w := range pages(d) {
		words = append(words, w.text)
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
		"GMA 2° east: grid to magnetic, take off 2", "sheet unchecked", "360°",
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
	f.Texts[Magnetic], f.Texts[BackMagnetic], f.Texts[GMA], f.Texts[Rule], f.Face.Needle = "", "", "", "", false
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
	if !has(got, "Choose a leg.") || has(got, "055°") || has(got, "sheet unchecked") || has(got, "Grid") {
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

// drawn is the panel as it is drawn at a scale of the display.
func drawn(d *Dial, scale float32) *image.RGBA {
	s := d.Size()
	return d.paint(int(s.Width*scale+0.5), int(s.Height*scale+0.5)).(*image.RGBA)
}

// count counts the pixels of a colour.
func count(img *image.RGBA, c color.NRGBA) (n int) {
	for i := 0; i < len(img.Pix); i += 4 {
		if [4]uint8(img.Pix[i:i+4]) == [4]uint8{c.R, c.G, c.B, 0xff} {
			n++
		}
	}
	return n
}

func needlePixels(d *Dial) int { return count(drawn(d, 1), look.Current().Dial().Needle) }

// TestPictureIsOfTheFigures draws one reading after another over the same
// picture and compares it with that of a dial that shows the last one only:
// nothing is left of what stood there before, nothing is missing.
func TestPictureIsOfTheFigures(t *testing.T) {
	d, _ := newDial(t)
	other := sample()
	other.Face.Circle, other.Set, other.Texts[Rule], other.Notes = units.Mils6400, "6390 mil", "", []string{"no point to spare", "sheet unchecked", "very short leg"}
	for _, scale := range []float32{1, 1.25, 1.5, 2} {
		steps := []func(*Dial){
			func(d *Dial) { d.Display(other) }, func(d *Dial) { d.ShowTrue(true) }, func(d *Dial) { d.Clear("Choose a leg.") },
			func(d *Dial) { d.ShowTrue(false) }, func(d *Dial) { d.Display(sample()) },
		}
		for i, step := range steps {
			step(d)
			got := drawn(d, scale)
			fresh := New()
			fresh.Resize(d.Size())
			for _, s := range steps[:i+1] {
				s(fresh)
			}
			if want := drawn(fresh, scale); !bytes.Equal(got.Pix, want.Pix) {
				t.Errorf("scale %v, step %d: got another picture than that of a new dial", scale, i)
			}
		}
	}
}

// TestFigureToSetIsLegible measures the figure to set. Its 32 pixels are 8.5 mm
// at 96 to the inch and 9.7 minutes of arc from three metres, about twice the
// height of the letters that a normal eye tells apart (common practice, no
// source).
func TestFigureToSetIsLegible(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	letters := d.picture.letters
	if got := letters.Cap(toSet()); got < 32 {
		t.Errorf("got figures %v high, want 32 or more", got)
	}
	img := drawn(d, 1)
	if n := count(img, look.Current()[look.Ink]); n < 500 {
		t.Errorf("got %d pixels of full ink, want the figures drawn solid", n)
	}
}

// TestNothingJumps keeps the height the same from empty through a reading to
// cautions of one line.
func TestNothingJumps(t *testing.T) {
	d, _ := newDial(t)
	want := d.MinSize()
	f := sample()
	for name, notes := range map[string][]string{"no caution": nil, "one caution": {"sheet unchecked"}, "two": {"sheet unchecked", "no redundancy"}} {
		f.Notes = notes
		d.Display(f)
		if got := d.MinSize(); got != want {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	if want.Width > 300 || want.Height > 500 {
		t.Errorf("least size: got %v, want at most 300 by 500 to leave room for the list of panels at 1280×800", want)
	}
}

// TestFiguresStayApart lays out the longest figures a circle can give and
// looks for texts that cover each other or leave the panel.
func TestFiguresStayApart(t *testing.T) {
	d, _ := newDial(t)
	f := sample()
	f.Face.Circle, f.Set, f.Texts[Grid], f.Texts[Magnetic] = units.Mils6400, "6390 mil ± 60 mil", "6390 mil ± 16", "6380 mil ± 18"
	f.Texts[Back], f.Texts[BackMagnetic], f.Texts[GMA], f.Texts[Rule] = "3190 mil ± 16", "3180 mil ± 18", "230 mil west", "grid to magnetic, add 230"
	f.Distance, f.Point, f.Texts[Time], f.Texts[Paces] = "12 240 m ± 20", "north-north-west", "3 h 05", "7800 ± 1600"
	f.Stop, f.Stops = "STOP: control points disagree, bearing too vague, outside the control points", []string{"bearing too vague"}
	d.Display(f)
	d.ShowTrue(true)
	d.Resize(fyne.NewSize(300, d.MinSize().Height))
	words, letters := pages(d), d.picture.letters
	for i, a := range words {
		if end := a.x + letters.Width(a.text, a.style); a.x < 0 || end > 300 {
			t.Errorf("%q: got %v to %v, want within 0 to 300", a.text, a.x, end)
		}
		for _, b := range words[i+1:] {
			if covers(letters, a, b) {
				t.Errorf("%q at %v, %v and %q at %v, %v cover each other", a.text, a.x, a.line, b.text, b.x, b.line)
			}
		}
	}
	if len(words) < 20 {
		t.Errorf("got %d texts, want 20 or more", len(words))
	}
}

// covers compares the boxes of two texts, as high as capitals.
func covers(l *lettering.Setter, a, b word) bool {
	return a.x < b.x+l.Width(b.text, b.style) && b.x < a.x+l.Width(a.text, a.style) &&
		a.line-l.Cap(a.style) < b.line && b.line-l.Cap(b.style) < a.line
}

func TestFaceFollowsTheTheme(t *testing.T) {
	d, _ := newDial(t)
	d.Display(sample())
	plate := func() color.RGBA { return drawn(d, 1).RGBAAt(160, 60) }
	light := plate()
	fyne.CurrentApp().Settings().SetTheme(look.New(look.DarkMode))
	dark := plate()
	if light == dark || dark.R > 0x60 {
		t.Errorf("plate: got %v in light and %v in dark, want a dark plate in dark", light, dark)
	}
}

// TestFaceIsOfTheLastFigures: however often the figures change between two
// pictures, the face drawn ahead is that of the last.
func TestFaceIsOfTheLastFigures(t *testing.T) {
	d, _ := newDial(t)
	w, h := int(d.Size().Width), int(d.Size().Height)
	d.paint(w, h)
	f := sample()
	for _, deg := range []float64{10, 120, 240, 355} {
		f.Face.At = units.Degrees(deg)
		d.Display(f)
	}
	got := bytes.Clone(d.paint(w, h).(*image.RGBA).Pix)

	other, _ := newDial(t)
	other.Display(f)
	if want := other.paint(w, h).(*image.RGBA).Pix; !bytes.Equal(got, want) {
		t.Error("the face drawn ahead is not that of the figures shown")
	}
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
		if f, s := splitSigma(c.text); f != c.figure || s != c.sigma {
			t.Errorf("%q: got %q, %q, want %q, %q", c.text, f, s, c.figure, c.sigma)
		}
	}
}

// The figure to set itself shows that nobody may walk on it, with the reason above,
// and shows nothing of the kind without a stop.
func TestStopMarksTheFigureToSet(t *testing.T) {
	d, _ := newDial(t)
	f := sample()
	has := func(text string) bool {
		return slices.ContainsFunc(pages(d), func(w word) bool { return strings.HasPrefix(w.text, text) })
	}
	for _, stop := range []bool{false, true, false} {
		f.Stop, f.Stops = "", nil
		if stop {
			f.Stop, f.Stops = "STOP: bearing too vague", []string{"bearing too vague"}
		}
		d.Display(f)
		if has("!") != stop || has("STOP: bearing") != stop || has("bearing too vague") != stop || has(f.SetLabel) == stop {
			t.Errorf("stop %v: mark %v, reason %v, plate %v, label %v", stop, has("!"), has("STOP: bearing"), has("bearing too vague"), has(f.SetLabel))
		}
	}
}
