package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
)

// stepped is a bench with a leg at the job of the compass.
func stepped(t *testing.T) *Bench {
	t.Helper()
	b := withALeg(t)
	b.teach.panel.Choose(teachpanel.Show)
	b.s.Select(b.s.Rows()[0].ID)
	return b
}

// box is where an object stands in the window.
type box struct{ x0, y0, x1, y1 float32 }

func boxOf(o fyne.CanvasObject) box {
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	return box{at.X, at.Y, at.X + size.Width, at.Y + size.Height}
}

// over reports whether two boxes share more than an edge.
func (a box) over(b box) bool {
	return a.x0 < b.x1-0.5 && b.x0 < a.x1-0.5 && a.y0 < b.y1-0.5 && b.y0 < a.y1-0.5
}

// leastCompass is the least side of the compass in pixels of the screen at which its ring
// can be read.
const leastCompass = 330

// The compass stands between the sheet and the panel, large enough to be read, and covers
// nothing; its words stand in the dial's place, beside it, so that what chooses
// the job stays where it was. The line stays in sight, and all goes back with the job.
func TestCompassBesideTheSheet(t *testing.T) {
	b := stepped(t)
	for _, c := range []struct {
		size  fyne.Size
		scale float32
	}{{fyne.NewSize(853, 533), 1.5}, {fyne.NewSize(1280, 800), 1}, {fyne.NewSize(1400, 900), 1}, {fyne.NewSize(1920, 1050), 1}} {
		b.teach.panel.Choose(teachpanel.Show)
		b.window.Resize(c.size)
		sheet, body := boxOf(b.view.Area()), boxOf(b.teach.panel.Body())
		b.teach.panel.Choose(teachpanel.Compass)
		compass := boxOf(b.frame.layout.beside)
		for name, o := range map[string]fyne.CanvasObject{"sheet": b.view.Area(), "panel": b.frame.panel.body, "ledger": b.ledger, "foot line": b.foot} {
			if compass.over(boxOf(o)) {
				t.Errorf("%v: the compass at %v lies over the %s at %v", c.size, compass, name, boxOf(o))
			}
		}
		const edge = 16 // of the surface it stands on
		if side := min(compass.x1-compass.x0, compass.y1-compass.y0) - edge; side*c.scale < leastCompass {
			t.Errorf("%v: the compass has a side of %v pixels", c.size, side*c.scale)
		}
		if now := boxOf(b.teach.panel.Body()); now.y0 != body.y0 {
			t.Errorf("%v: what chooses the job jumps from %v to %v", c.size, body.y0, now.y0)
		}
		words, seen := boxOf(b.teach.panel.Words()), boxOf(b.frame.panel.scroll)
		if words.over(boxOf(b.teach.panel.Body())) || words.y0 < seen.y0 || words.y1 > seen.y1+0.5 || words.y1-words.y0 < insteadLeast || b.frame.dial.Visible() {
			t.Errorf("%v: the words stand at %v of %v, the dial is seen %v", c.size, words, seen, b.frame.dial.Visible())
		}
		settle(b)
		if l := b.view.Scene().Lesson.Line; l == nil || !b.view.InView(l.From) || !b.view.InView(l.To) {
			t.Errorf("%v: the line %v is out of sight", c.size, l)
		}
		b.goTo(panelRoute)
		if b.frame.layout.beside.Visible() || boxOf(b.view.Area()) != sheet || !b.frame.dial.Visible() {
			t.Errorf("%v: at the route the compass is seen %v, the sheet at %v, it was at %v", c.size, b.frame.layout.beside.Visible(), boxOf(b.view.Area()), sheet)
		}
	}
}

// The menu steps and names each key, and chooses each mistake.
func TestStepsByMenu(t *testing.T) {
	b := stepped(t)
	for _, c := range []struct {
		entry string
		want  teach.Stepping
	}{
		{"Second step  (2)", teach.Stepping{Step: 2}},
		{"Housing upside down", teach.Stepping{Step: 2, Wrong: teach.HousingUpsideDown}},
		{"Next mistake  (W)", teach.Stepping{Step: 2, Wrong: teach.SouthEndSeated}},
		{"Fourth step  (4)", teach.Stepping{Step: 4, Wrong: teach.SouthEndSeated}},
		{"Done right", teach.Stepping{Step: 4}},
		{"From the ground to the map  (M)", teach.Stepping{Way: teach.GroundToMap}},
		{"First step  (1)", teach.Stepping{Way: teach.GroundToMap, Step: 1}},
		{"Before the first step  (0)", teach.Stepping{Way: teach.GroundToMap}},
	} {
		chooseEntry(t, b, c.entry)
		if got, on := b.teach.lesson.Stepping(); got != c.want || !on || b.teach.panel.Chosen() != teachpanel.Compass {
			t.Errorf("%s: at %+v, shown %v, want %+v", c.entry, got, on, c.want)
		}
	}
}
