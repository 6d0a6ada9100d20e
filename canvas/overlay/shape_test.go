package overlay

import (
	"image/color"
	"testing"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// shapesScene has one of each kind of hazard, haven and line, and one being drawn, on a
// sheet of 600 × 400.
func shapesScene() Scene {
	at := func(xy ...float64) (out []view.PicPt) {
		for i := 0; i < len(xy); i += 2 {
			out = append(out, view.PicPt{X: xy[i], Y: xy[i+1]})
		}
		return out
	}
	chosen := NewHazard("g", plan.Crag, true, at(230, 210, 330, 190, 350, 270, 260, 290), "Black Face")
	chosen.Selected = true
	return Scene{
		Hazards: []Shape{
			NewHazard("a", plan.Crag, true, at(20, 20, 150, 30, 130, 110, 70, 80, 30, 120), "crag 1"),
			NewHazard("b", plan.Steep, true, at(180, 20, 300, 30, 280, 120, 190, 100), "steep ground 2"),
			NewHazard("c", plan.Water, true, at(330, 20, 440, 30, 430, 110, 340, 120), "Grey Tarn"),
			NewHazard("d", plan.Bog, true, at(470, 20, 580, 30, 570, 110, 480, 120), "bog 4"),
			NewHazard("e", plan.Private, true, at(20, 160, 150, 150, 160, 250, 30, 240), "private ground 5"),
			NewHazard("f", plan.Water, false, at(380, 150, 440, 190, 420, 250, 580, 280), "water 6"),
			chosen,
		},
		Havens: []Shape{NewHaven("h", at(60, 300), "Shieling"), NewHaven("i", at(20, 380, 300, 330, 580, 370), "road 2")},
		Lines:  []Shape{NewLine("k", false, at(20, 350, 200, 310, 400, 340), "wall 1"), NewLine("l", true, at(400, 300, 580, 320), "track 2")},
		Drawn:  Drawn{Points: at(460, 150, 560, 140, 570, 220, 500, 230), Closed: true},
	}
}

func TestGoldenShapes(t *testing.T) {
	t.Parallel()
	whole := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	whole = whole.PanBy(-whole.Offset().X, -whole.Offset().Y)
	faint := shapesScene()
	faint.Faint, faint.Drawn = true, Drawn{}
	for name, c := range map[string]struct {
		v  view.View
		px float64
		s  Scene
	}{
		"shapes":       {whole, 1, shapesScene()},
		"shapes-faint": {whole, 1, faint},
		"shapes-1.5":   {whole.WithViewport(900, 600).ScaledTo(1.5, view.PicPt{X: 300, Y: 200}, view.ScreenPt{X: 450, Y: 300}), 1.5, shapesScene()},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w, h := c.v.Viewport()
			compareGolden(t, name, onPaper(NewPainter().Paint(w, h, c.v, c.px, c.s)))
		})
	}
}

// No two kinds look the same without their colour: width, dashes or bands differ.
func TestShapesDifferWithoutColour(t *testing.T) {
	t.Parallel()
	seen := map[string]kind{}
	table := styles()
	for _, k := range []kind{cragLine, steepLine, waterLine, bogLine, privateLine, havenLine, followLine, catchingLine, escapeLine, escapeStopped, legLine, legStopped, sightLine, sightStopped, slipLine} {
		key := ""
		for _, b := range table[k].ink {
			b.col = color.NRGBA{}
			key += string(appendBand(nil, b))
		}
		for _, d := range table[k].dash {
			key += string(appendBand(nil, band{from: d}))
		}
		if other, taken := seen[key]; taken {
			t.Errorf("kinds %d and %d differ in colour alone", k, other)
		}
		seen[key] = k
	}
}

func appendBand(to []rune, b band) []rune {
	return append(to, rune(100*b.from), rune(100*b.to), ';')
}

// The outline of an area is hit all around, and its points are those of the plan.
func TestPathsOfShapes(t *testing.T) {
	t.Parallel()
	s := shapesScene()
	got := map[plan.ID]Path{}
	s.Paths(func(p Path) { got[p.ID] = p })
	if p := got["a"]; p.Kind != plan.OfHazard || !p.Closed || len(p.Points) != 5 {
		t.Errorf("the crag: %+v", p)
	}
	if p := got["i"]; p.Kind != plan.OfHaven || p.Closed || len(p.Points) != 3 {
		t.Errorf("the road: %+v", p)
	}
	if p := got["k"]; p.Kind != plan.OfLine || len(p.Points) != 3 {
		t.Errorf("the wall: %+v", p)
	}
}

// Hatching stays within the outline, which has a bay here.
func TestHatchingStaysInside(t *testing.T) {
	t.Parallel()
	u := NewHazard("u", plan.Crag, true, []view.PicPt{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 60}, {X: 70, Y: 60}, {X: 70, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}, "")
	for _, crossed := range []bool{false, true} {
		for off := -150.0; off < 150; off += 0.7 {
			cuts := u.cuts(off, crossed)
			if len(cuts)%2 != 0 {
				t.Fatalf("line %v is cut %d times", off, len(cuts))
			}
			for i := 1; i < len(cuts); i += 2 {
				at := hatchWay{off, crossed}.at((cuts[i-1] + cuts[i]) / 2)
				bay := at.X > 30 && at.X < 70 && at.Y < 60
				if bay || at.X < 0 || at.X > 100 || at.Y < 0 || at.Y > 100 {
					t.Fatalf("line %v is hatched at %v, outside", off, at)
				}
			}
		}
	}
}
