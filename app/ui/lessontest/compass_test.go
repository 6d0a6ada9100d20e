package lessontest

import (
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/benchtest"
	"legwright/app/ui/teachpanel"
)

// stepped is a bench with a leg at the job of the compass.
func stepped(t *testing.T) *benchtest.Bench {
	t.Helper()
	b := benchtest.WithALeg(t)
	b.Job(teachpanel.Show)
	b.Session().Select(b.Session().Rows()[0].ID)
	return b
}

// box is where an object stands in the window.
type box struct{ x0, y0, x1, y1 float32 }

func boxOf(o fyne.CanvasObject) box {
	at, size := benchtest.PlaceOf(o), o.Size()
	return box{at.X, at.Y, at.X + size.Width, at.Y + size.Height}
}

// over reports whether two boxes share more than an edge.
func (a box) over(b box) bool {
	return a.x0 < b.x1-0.5 && b.x0 < a.x1-0.5 && a.y0 < b.y1-0.5 && b.y0 < a.y1-0.5
}

// insteadLeast is the least height of what stands in the dial's place, in units of the
// window.
const insteadLeast = float32(120)

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
		b.Job(teachpanel.Show)
		b.Resize(c.size)
		sheet, body := boxOf(b.Sheet()), boxOf(b.Parts.Lower())
		b.Job(teachpanel.Compass)
		compass := boxOf(b.Parts.Beside())
		for name, o := range map[string]fyne.CanvasObject{"sheet": b.Sheet(), "panel": b.Parts.Column().Body, "ledger": b.Ledger, "foot line": b.Foot} {
			if compass.over(boxOf(o)) {
				t.Errorf("%v: the compass at %v lies over the %s at %v", c.size, compass, name, boxOf(o))
			}
		}
		const edge = 16 // of the surface it stands on
		if side := min(compass.x1-compass.x0, compass.y1-compass.y0) - edge; side*c.scale < leastCompass {
			t.Errorf("%v: the compass has a side of %v pixels", c.size, side*c.scale)
		}
		if now := boxOf(b.Parts.Lower()); now.y0 != body.y0 {
			t.Errorf("%v: what chooses the job jumps from %v to %v", c.size, body.y0, now.y0)
		}
		words, seen := boxOf(b.Parts.Instead()), boxOf(b.Parts.Column().Scroll)
		if words.over(boxOf(b.Parts.Lower())) || words.y0 < seen.y0 || words.y1 > seen.y1+0.5 || words.y1-words.y0 < insteadLeast || b.Dial.Visible() {
			t.Errorf("%v: the words stand at %v of %v, the dial is seen %v", c.size, words, seen, b.Dial.Visible())
		}
		b.Settle()
		if l := b.Scene().Lesson.Line; l == nil || !b.Mouse.InView(l.From.X, l.From.Y) || !b.Mouse.InView(l.To.X, l.To.Y) {
			t.Errorf("%v: the line %v is out of sight", c.size, l)
		}
		b.GoTo("Route")
		if b.Parts.Beside().Visible() || boxOf(b.Sheet()) != sheet || !b.Dial.Visible() {
			t.Errorf("%v: at the route the compass is seen %v, the sheet at %v, it was at %v", c.size, b.Parts.Beside().Visible(), boxOf(b.Sheet()), sheet)
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
		b.Choose(c.entry)
		if got, on := b.Lesson().Stepping(); got != c.want || !on || !b.Entry("Step through the compass").Checked {
			t.Errorf("%s: at %+v, shown %v, want %+v", c.entry, got, on, c.want)
		}
	}
}

// The panel of the picture's look has room over the sheet that the compass leaves.
func TestLookFitsBesideTheCompass(t *testing.T) {
	b := stepped(t)
	b.Resize(fyne.NewSize(853, 533))
	b.Job(teachpanel.Compass)
	b.Choose("Adjust contrast and fade…")
	b.Settle()
	if card := b.Parts.LookCard(); !card.Visible() || !b.Parts.Beside().Visible() || card.MinSize().Width > card.Size().Width {
		t.Errorf("the panel needs %v and has %v; it is seen %v, the compass %v", card.MinSize(), card.Size(), card.Visible(), b.Parts.Beside().Visible())
	}
}
