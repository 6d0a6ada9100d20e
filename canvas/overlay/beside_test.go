package overlay

import (
	"fmt"
	"image"
	"math"
	"slices"
	"testing"

	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// drawnOn is a scene of the classroom's sheet drawn one to one into a part of it.
func drawnOn(seen image.Point, s Scene) *drawing {
	v := view.New(600, 400, seen.X, seen.Y).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	p := NewPainter()
	p.Paint(seen.X, seen.Y, v, 1, Scene{})
	p.img = image.NewRGBA(image.Rectangle{Max: seen})
	return newDrawing(p, v, s, p.img.Rect)
}

// textOf finds a text that was placed.
func (d *drawing) textOf(text string) (textAt, bool) {
	for _, at := range d.texts {
		if at.textImage.of.text == text {
			return at, true
		}
	}
	return textAt{}, false
}

// The name of a mark or end is seen whole wherever the mark stands on a narrow sheet, and
// never covers the middle of its symbol.
func TestNamesStayInside(t *testing.T) {
	t.Parallel()
	seen := image.Pt(130, 90)
	for x := 1; x < seen.X; x += 8 {
		for y := 1; y < seen.Y; y += 8 {
			at := pt(float64(x), float64(y))
			for name, s := range map[string]Scene{
				"Path junction": {Marks: []Mark{{ID: "m", At: at, Name: "Path junction"}}},
				"Footbridge B":  {Ends: []End{{Text: "Footbridge B", At: at}}},
			} {
				got, ok := drawnOn(seen, s).textOf(name)
				if !ok || !got.at.In(image.Rectangle{Max: seen}) || image.Pt(x, y).In(got.at.Inset(int(got.textImage.of.halo())+3)) {
					t.Errorf("%q at %d, %d: drawn %v at %v", name, x, y, ok, got.at)
				}
			}
		}
	}
}

// A name never stands on the far side of a mark close by, which it would seem to name.
func TestANameCrossesNoOtherMark(t *testing.T) {
	t.Parallel()
	for deg := 0.0; deg < 360; deg += 15 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		a, b := pt(300, 200), pt(300+26*cos, 200+26*sin)
		d := drawnOn(image.Pt(600, 400), Scene{Marks: []Mark{{ID: "a", At: a, Name: "Skelvig quay"}, {ID: "b", At: b, Name: "Path junction"}}})
		for name, other := range map[string]view.PicPt{"Skelvig quay": b, "Path junction": a} {
			got, ok := d.textOf(name)
			if at := d.v.ToScreen(other); !ok || image.Pt(int(at.X), int(at.Y)).In(got.at) {
				t.Errorf("at %g°: %q drawn %v at %v, the other mark at %v", deg, name, ok, got.at, at)
			}
		}
	}
}

// The bearing of each of two people is written whatever stands along the first half of
// their rays, and covers none of it.
func TestEveryRayHasItsBearing(t *testing.T) {
	t.Parallel()
	k := classroom(t, 0)
	for deg := 0.0; deg < 360; deg += 15 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		a, b := k.Ray(pt(300, 200), grid(deg), units.Degrees(5)), k.Ray(pt(300, 200), grid(deg+20), units.Degrees(5))
		a.Label, b.Label, b.Second = fmt.Sprintf("%03.0f° grid", deg), fmt.Sprintf("%03.0f° grid", math.Mod(deg+20, 360)), true
		s := Scene{Lesson: Lesson{Rays: []Ray{a, b}}}
		for away := 25.0; away <= 85; away += 30 {
			s.Lesson.Features = append(s.Lesson.Features, Feature{At: pt(300+away*sin, 200-away*cos), Name: fmt.Sprintf("Boulder %.0f", away)})
		}
		d := drawnOn(image.Pt(600, 400), s)
		for _, label := range []string{a.Label, b.Label} {
			if at, ok := d.textOf(label); !ok || !at.at.Overlaps(d.seen) {
				t.Errorf("%v°: %q is not written", deg, label)
			}
		}
		for i, one := range d.texts {
			for _, other := range d.texts[:i] {
				if one.at.Overlaps(other.at) {
					t.Errorf("%v°: %q lies over %q", deg, one.textImage.of.text, other.textImage.of.text)
				}
			}
		}
	}
}

// The letters of a line's ends are written where the names of marks leave no room, if the
// line is chosen: the ledger names its ends by nothing else.
func TestLettersOfTheChosenLine(t *testing.T) {
	t.Parallel()
	from, to := pt(60, 60), pt(300, 200)
	for _, chosen := range []bool{false, true} {
		s := Scene{
			Legs: []Leg{{From: from, To: to, Selected: chosen}},
			Ends: []End{{At: from, Text: "C"}, {At: to, Text: "D"}},
		}
		for i, off := range []float64{-13, 0, 13, 26} {
			s.Marks = append(s.Marks, Mark{ID: plan.ID(fmt.Sprint(i)), At: pt(230, 193+off), Name: "Skelvig quay, the old one"})
		}
		d := drawnOn(image.Pt(600, 400), s)
		d.texts, d.taken = nil, nil
		d.setTexts()
		if c, ok := d.textOf("C"); ok && !slices.Contains(d.named, c.at) {
			t.Errorf("chosen %v: dragged figures do not keep off the letter", chosen)
		}
		if _, ok := d.textOf("C"); !ok {
			t.Errorf("chosen %v: no letter where there is room", chosen)
		}
		if _, ok := d.textOf("D"); ok != chosen {
			t.Errorf("chosen %v: the letter among names is written: %v", chosen, ok)
		}
	}
}
