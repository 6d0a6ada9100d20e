package ui_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/foot"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// Sizes that the window keeps to, in units of the window.
const (
	lowerLeast    = float32(150) // of what stands below the dial
	stripDistance = float32(18)  // of the strip from the lower edge of the sheet
)

// The list of panels, the foot line and the panel's parts do not lie over one another
// in any window from the least one on, and what is over the foot line's edge
// is left out, but never whether the sheet is checked.
func TestLowAndNarrowWindows(t *testing.T) {
	b := benchtest.Calibrated(t)
	for _, size := range []fyne.Size{{Width: 800, Height: 500}, {Width: 853, Height: 533}, {Width: 1024, Height: 600}, {Width: 1280, Height: 800}, {Width: 1400, Height: 900}} {
		b.Resize(size)
		for _, p := range []string{"Sheet", "Route", "Teach"} {
			b.GoTo(p)
			b.Foot.SetPointer(foot.Pointer{Ref: "NL 20145 40162", LatLon: "56.431682°N 7.105923°W ± hundreds of m", Stopped: true})
			b.Foot.Say("The route is written as GPX.")
			panelFits(t, b, size)
			footFits(t, b, size)
		}
	}
}

// However many cautions a reading brings onto the dial, and after they have gone,
// the list of panels lies over nothing; and the strip that offers a reading ends beside
// the panel.
func TestCautionsMoveTheListOfPanels(t *testing.T) {
	b := benchtest.Calibrated(t)
	for _, size := range []fyne.Size{{Width: 853, Height: 496}, {Width: 853, Height: 509}, {Width: 1280, Height: 776}, {Width: 1400, Height: 900}} {
		b.Resize(size)
		b.GoTo("Route")
		b.Mouse.Drag(100, 100, 103, 101)
		f := b.Dial.Figures()
		f.Notes = []string{"no point to spare", "sheet unchecked", "calibration doubtful", "no magnetic model for the date", "outside the control points", "lat/lon not to be trusted"}
		b.Dial.Display(f)
		panelFits(t, b, size)
		dialSeen(t, b, size)
		place := benchtest.PlaceOf
		if end, panel := place(b.Strip).X+b.Strip.MinSize().Width, place(b.Parts.Column().Body).X; !b.Offered() || end > panel {
			t.Errorf("%v: the strip ends at %v, the panel begins at %v", size, end, panel)
		}
		b.Discard()
		panelFits(t, b, size)
		b.GoTo("Sheet")
		panelFits(t, b, size)
	}
}

// Three lines of cautions take their room from the dial's face: what stands below the dial
// has the same place whatever the reading, also once the panel is laid out anew.
func TestThreeLinesOfCautionsMoveNothingBelowTheDial(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	b.Mouse.Drag(100, 100, 103, 101)
	f := b.Dial.Figures()
	for _, size := range []fyne.Size{{Width: 853, Height: 496}, {Width: 1280, Height: 776}, {Width: 1400, Height: 900}} {
		var at float32
		for lines, notes := range [][]string{{"no point to spare"}, {"no point to spare", "calibration doubtful", "sheet unchecked"}, {"no magnetic model for the date", "outside the control points of the sheet, far out", "lat/lon of it not to be trusted"}} {
			f.Notes, f.Stops = notes, nil
			b.Dial.Display(f)
			b.Resize(size.AddWidthHeight(0, 8))
			b.Resize(size)
			switch y := benchtest.PlaceOf(b.Parts.Lower()).Y; {
			case lines == 0:
				at = y
			case y != at:
				t.Errorf("%v: with %d lines what stands below the dial moves from %v to %v", size, lines+1, at, y)
			}
		}
	}
}

// dialSeen compares the dial, whose last lines are the cautions of a reading, with
// what is seen of the panel without scrolling.
func dialSeen(t *testing.T, b *benchtest.Bench, size fyne.Size) {
	t.Helper()
	place := benchtest.PlaceOf
	view := b.Parts.Column().Scroll
	end := place(b.Dial).Y + b.Dial.MinSize().Height
	if seen := place(view).Y + view.Size().Height; end > seen+0.5 {
		t.Errorf("%v: the dial needs room down to %v, the panel is seen down to %v", size, end, seen)
	}
}

func panelFits(t *testing.T, b *benchtest.Bench, size fyne.Size) {
	t.Helper()
	place := benchtest.PlaceOf
	footY := place(b.Foot).Y
	list := b.Parts.Column().List
	top, bottom := place(list).Y, place(list).Y+list.Size().Height
	if bottom > footY || list.Size().Height < 20 {
		t.Errorf("%v: the list of panels ends at %v, the foot line begins at %v", size, bottom, footY)
	}
	view := b.Parts.Column().Scroll
	lower := b.Parts.Lower()
	if end := place(view).Y + view.Size().Height; end > top {
		t.Errorf("%v: the panel is seen down to %v, the list of panels begins at %v", size, end, top)
	}
	if h := lower.Size().Height; h < lowerLeast {
		t.Errorf("%v: the lower part is %v high, want %v", size, h, lowerLeast)
	}
	view.ScrollToBottom()
	if end := place(lower).Y + lower.Size().Height; end > footY+0.5 {
		t.Errorf("%v: scrolled to its end, the lower part ends at %v below the foot line's %v", size, end, footY)
	}
	view.ScrollToTop()
}

func footFits(t *testing.T, b *benchtest.Bench, size fyne.Size) {
	t.Helper()
	end := float32(0)
	for i := foot.PartRef; i <= foot.PartMessage; i++ {
		o := b.Foot.Drawn(i)
		if o.Hidden || o.Text == "" {
			continue
		}
		if o.X < end || o.X+o.Width > size.Width {
			t.Errorf("%v: %q at %v lies over what ends at %v, or beyond the window", size, o.Text, o.X, end)
		}
		end = o.X + o.Width
	}
	if p := b.Foot.Drawn(foot.PartCheck); p.Hidden || p.Text != caution.Of(caution.Unchecked).Short() {
		t.Errorf("%v: the foot line does not say that the sheet is unchecked: %q", size, p.Text)
	}
	if m := b.Foot.Drawn(foot.PartMessage); len(m.Text) < 12 {
		t.Errorf("%v: the message is cut to %q", size, m.Text)
	}
}

// The welcome's lines stay inside its card, in the least window too.
func TestWelcomeStaysInItsCard(t *testing.T) {
	b := benchtest.Open(t)
	for _, size := range []fyne.Size{{Width: 800, Height: 500}, {Width: 1280, Height: 800}} {
		b.Resize(size)
		b.Choose("Show the welcome card")
		place := benchtest.PlaceOf
		card := b.Parts.Welcome()
		button, _ := uitest.Find[*widgets.Tool](b.Window, "Begin")
		if end, edge := place(button).Y+button.Size().Height, place(card).Y+card.Size().Height; end > edge {
			t.Errorf("%v: the button ends at %v, the card at %v", size, end, edge)
		}
		if s := card.Size(); s.Width > b.Sheet().Size().Width || s.Width < 400 || card.MinSize().Width > s.Width {
			t.Errorf("%v: the card is %v wide and needs %v, the sheet %v", size, s.Width, card.MinSize().Width, b.Sheet().Size().Width)
		}
	}
}

// TestWelcomeGoesWithTheDemo opens an own picture while the card of the first
// run stands: its steps are about the demo, so it makes way for the cautions.
func TestWelcomeGoesWithTheDemo(t *testing.T) {
	b := benchtest.Open(t)
	b.SetUnderstood(false)
	b.Choose("Show the welcome card")
	b.Files.Drop(benchtest.Picture(t))
	b.Until("an own picture is shown", func() bool { return b.Whole() })
	if b.Parts.Welcome().Visible() {
		t.Error("the card of the demo stands over an own picture")
	}
	if b.Questions() != 1 {
		t.Error("the cautions were not shown in its place")
	}
}

// Nobody keeps a first leg without having understood the cautions. To close them
// otherwise keeps the offer and no leg.
func TestCautionsComeBeforeTheFirstLeg(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.SetUnderstood(false)
	b.GoTo("Route")
	b.Mouse.Drag(100, 200, 200, 100)
	b.Letters("l")
	if b.Questions() != 1 || len(b.Plan().Legs) != 0 {
		t.Fatalf("%d dialogs, %d legs before the cautions were read", b.Questions(), len(b.Plan().Legs))
	}
	b.Escape()
	if b.Understood() || !b.Offered() || len(b.Plan().Legs) != 0 {
		t.Errorf("after Escape: understood %v, offered %v, %d legs", b.Understood(), b.Offered(), len(b.Plan().Legs))
	}
	b.Letters("l")
	b.Canvas().Unfocus() // as by a click beside the button
	b.Window.Key(fyne.KeyReturn)
	if !b.Understood() || len(b.Plan().Legs) != 1 {
		t.Errorf("understood %v, %d legs, want the one that was to be kept", b.Understood(), len(b.Plan().Legs))
	}
	b.Mouse.Drag(100, 200, 200, 200)
	b.Letters("s")
	if len(b.Plan().Sights) != 1 {
		t.Error("the cautions are asked for again")
	}
}

// Return and Escape close the welcome, as its only button does.
func TestKeysCloseTheWelcome(t *testing.T) {
	for _, name := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyEscape} {
		b := benchtest.Open(t)
		b.Choose("Show the welcome card")
		b.Window.Key(name)
		if b.Parts.Welcome().Visible() {
			t.Errorf("%s leaves the welcome open", name)
		}
	}
}

// The welcome covers nothing of the sheet, on which its steps are done, nor the strip of a
// reading.
func TestWelcomeLeavesTheSheetFree(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	for _, size := range []fyne.Size{{Width: 800, Height: 500}, {Width: 853, Height: 533}, {Width: 1280, Height: 800}, {Width: 1920, Height: 1080}} {
		b.Resize(size)
		b.Choose("Show the welcome card")
		b.Mouse.Drag(100, 200, 300, 40)
		strip, card, sheet := b.Strip, b.Parts.Welcome(), b.Sheet()
		if !strip.Visible() || !card.Visible() {
			t.Fatal("strip or card is not shown: the test tries nothing")
		}
		if foot, top := benchtest.PlaceOf(sheet).Y+sheet.Size().Height, benchtest.PlaceOf(card).Y; top < foot {
			t.Errorf("%v: the card begins at %v, the sheet ends at %v", size, top, foot)
		}
		if end, want := strip.Position().Y+strip.Size().Height, sheet.Size().Height-stripDistance; end != want {
			t.Errorf("%v: the strip ends at %v, want %v", size, end, want)
		}
		b.Tap(t, "Begin")
		b.Discard()
	}
}

// The strip never covers the end of the line whose reading it offers to keep.
func TestTheStripKeepsOffTheEnd(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.GoTo("Route")
	for _, size := range []fyne.Size{{Width: 853, Height: 533}, {Width: 1280, Height: 800}, {Width: 1920, Height: 1080}} {
		b.Resize(size)
		b.Settle()
		for row := 20.0; row < 300; row += 35 {
			b.Mouse.Drag(30, 150, 200, row)
			at, strip := b.Mouse.At(200, row).AbsolutePosition, b.Strip
			place := benchtest.PlaceOf(strip)
			if in := at.Subtract(place); in.X > 0 && in.Y > 0 && in.X < strip.Size().Width && in.Y < strip.Size().Height {
				t.Errorf("%v: the end at %v lies under the strip at %v, %v", size, at, place, strip.Size())
			}
			b.Discard()
		}
	}
}
