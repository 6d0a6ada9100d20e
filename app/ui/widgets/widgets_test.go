package widgets

import (
	"image/color"
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
	accent := look.Light()[look.Accent]
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
	const text = "Click an intersection of two grid lines on the sheet, then type its reference."
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
	if got := Wrap("every 1\u2009000 m ± 4 m", 1, 13, fyne.TextStyle{}); !slices.Equal(got, []string{"every", "1\u2009000\u00a0m\u00a0±\u00a04\u00a0m"}) {
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
		r := test.WidgetRenderer(s).(*sentenceRenderer)
		bottom := max(r.picture.Size().Height, sentenceTop+float32(len(r.lines))*r.lineHeight())
		if bottom > s.Size().Height || below.Position().Y < s.Position().Y+s.Size().Height {
			t.Errorf("width %v: got words to %v in a height of %v, what is below at %v", width, bottom, s.Size().Height, below.Position().Y)
		}
	}
}

// Presses, drags and the wheel on a strip do not reach what lies under it; what stands on it
// is still pressed.
func TestAStripKeepsPressesFromWhatLiesUnder(t *testing.T) {
	themed(t)
	under, on := 0, 0
	below := NewTextTool("", "below", "", func() { under++ })
	answer := NewTextTool("", "Keep", "", func() { on++ })
	strip := NewStrip(container.NewVBox(answer, widget.NewLabel("words")))
	w := test.NewTempWindow(t, container.NewStack(below, strip))
	w.Resize(fyne.NewSize(300, 200))
	c := w.Canvas()
	for _, at := range []fyne.Position{{X: 100, Y: 150}, {X: 290, Y: 190}} {
		test.TapCanvas(c, at)
	}
	if under != 0 {
		t.Errorf("%d of 2 presses on the strip reached what lies under it", under)
	}
	if test.TapCanvas(c, fyne.CurrentApp().Driver().AbsolutePositionForObject(answer).AddXY(10, 10)); on != 1 {
		t.Errorf("the answer on the strip was pressed %d times, want 1", on)
	}
	strip.Hide()
	if test.TapCanvas(c, fyne.NewPos(100, 150)); under != 1 {
		t.Error("what lies under a hidden strip cannot be pressed")
	}
}

// TestPartsFollowTheTheme changes the variant and expects new colours in
// every part.
func TestPartsFollowTheTheme(t *testing.T) {
	themed(t)
	heading, sentence := NewHeading("Control points"), NewSentence("Next.", Good)
	strip := NewStrip(NewTextTool(look.IconRoute, "Keep as leg", "", nil))
	panel := NewSurface(container.NewVBox(heading, sentence, NewHair(), strip), Left|Top, 8)
	w := test.NewTempWindow(t, panel)
	fyne.CurrentApp().Settings().SetTheme(look.New(look.DarkMode))
	w.Resize(fyne.NewSize(320, 300))
	heading.Refresh()
	if got, want := shown(heading)[0].Color, look.Dark()[look.Ink]; got != want {
		t.Errorf("heading: got %v, want %v", got, want)
	}
	sentence.Refresh()
	picture := test.WidgetRenderer(sentence).(*sentenceRenderer).paint(320, 40)
	bar, wash := color.NRGBAModel.Convert(picture.At(1, 1)), color.NRGBAModel.Convert(picture.At(310, 1))
	if bar != look.Dark()[look.Good] || wash != look.Dark()[look.GoodWash] {
		t.Errorf("sentence: got a bar of %v and a wash of %v, want %v and %v", bar, wash, look.Dark()[look.Good], look.Dark()[look.GoodWash])
	}
}

// A heading's note that is too long keeps its beginning, where what speaks against it stands.
func TestAHeadingKeepsTheBeginningOfItsNote(t *testing.T) {
	themed(t)
	letters := func(s string) float32 { return float32(len([]rune(s))) }
	const note = "2 marked STOP, DARK on leg 7, 7 legs, 7530 m, end 12:30"
	for _, c := range []struct {
		width float32
		want  string
	}{
		{55, note},
		{54, "2 marked STOP, DARK on leg 7, 7 legs, 7530 m …"},
		{30, "2 marked STOP, DARK on leg 7 …"},
		{5, "2 marked STOP …"},
	} {
		if got := partsThatFit(note, c.width, letters); got != c.want {
			t.Errorf("%g wide: %q, want %q", c.width, got, c.want)
		}
	}
	if first, rest := inTwo("1 marked STOP, 6 legs, walking 2 h", 22, letters); first != "1 marked STOP, 6 legs," || rest != "walking 2 h" {
		t.Errorf("in two lines: %q, %q", first, rest)
	}
	h := NewHeading("Ledger")
	h.SetNote(note)
	h.Resize(fyne.NewSize(260, 40))
	lines := shown(h) // the title is the first
	if len(lines) != 3 || !lines[0].Hidden || lines[2].Hidden || lines[1].Text+" "+lines[2].Text != note || lines[2].Position().Y+lines[2].Size().Height > 40 {
		t.Errorf("a high heading shows %d lines", len(lines))
	}
	if got := partsThatFit("RMS 3 m", 2, letters); got != "RMS 3 m" {
		t.Errorf("a note of one part became %q", got)
	}
}
