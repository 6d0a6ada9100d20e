package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// shapesScene has one of each kind of hazard, haven, line and area, and one being drawn, on a
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
		Areas: []Shape{
			NewArea("m", pace.Plantation, at(180, 130, 225, 130, 225, 200, 180, 200), "plantation 1"),
			NewArea("n", pace.Rough, at(350, 200, 410, 200, 410, 260, 360, 290), "rough ground 2"),
			NewArea("o", pace.OffPath, at(90, 260, 225, 260, 215, 305, 90, 305), "off-path area 3"),
			NewArea("p", pace.Path, at(420, 345, 590, 345, 590, 395, 420, 395), "path area 4"),
		},
		Drawn: Drawn{Points: at(460, 150, 560, 140, 570, 220, 500, 230), Closed: true},
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

// By night nothing of hazards, areas and proposals shines: their long outlines would dazzle. By day
// their casing is nearly white.
func TestOutlinesDoNotShineByNight(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	s := Scene{Hazards: shapesScene().Hazards[:6], Areas: shapesScene().Areas}
	for _, list := range [][]Shape{s.Hazards, s.Areas} {
		for i := range list {
			list[i].Name = ""
		}
	}
	s.Proposed = []Shape{NewProposed([]view.PicPt{{X: 250, Y: 220}, {X: 330, Y: 220}, {X: 300, Y: 290}})}
	for night, most := range map[bool]int{false: 1 << 10, true: 0} {
		p, shining := NewPainter(), 0
		p.SetNight(night)
		img := image.NewRGBA(image.Rect(0, 0, 600, 400))
		draw.Draw(img, img.Rect, image.NewUniform(color.RGBA{0x30, 0x28, 0x18, 0xff}), image.Point{}, draw.Src)
		p.Onto(img, v, 1, s, img.Rect)
		for i := 0; i < len(img.Pix); i += 4 {
			if min(img.Pix[i], img.Pix[i+1], img.Pix[i+2]) > 0xa0 {
				shining++
			}
		}
		if night && shining > most || !night && shining < most {
			t.Errorf("night %v: %d pixels are nearly white", night, shining)
		}
	}
}

// An area with a hole looks the same whichever side the slit to the hole lies on: it is not drawn.
func TestSlitsAreNotDrawn(t *testing.T) {
	t.Parallel()
	v := view.New(300, 300, 300, 300).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	painted := func(at ...view.PicPt) *image.RGBA {
		return NewPainter().Paint(300, 300, v, 1, Scene{Proposed: []Shape{NewProposed(at)}})
	}
	const a, b, c, d = 20, 100, 200, 280
	north := painted(view.PicPt{X: a, Y: a}, view.PicPt{X: a, Y: d}, view.PicPt{X: d, Y: d}, view.PicPt{X: d, Y: a}, view.PicPt{X: 150.2, Y: a},
		view.PicPt{X: 150.2, Y: b}, view.PicPt{X: c, Y: b}, view.PicPt{X: c, Y: c}, view.PicPt{X: b, Y: c}, view.PicPt{X: b, Y: b}, view.PicPt{X: 150, Y: b}, view.PicPt{X: 150, Y: a})
	south := painted(view.PicPt{X: d, Y: d}, view.PicPt{X: d, Y: a}, view.PicPt{X: a, Y: a}, view.PicPt{X: a, Y: d}, view.PicPt{X: 149.8, Y: d},
		view.PicPt{X: 149.8, Y: c}, view.PicPt{X: b, Y: c}, view.PicPt{X: b, Y: b}, view.PicPt{X: c, Y: b}, view.PicPt{X: c, Y: c}, view.PicPt{X: 150, Y: c}, view.PicPt{X: 150, Y: d})
	inked, differ := 0, 0
	for i := 3; i < len(north.Pix); i += 4 {
		if north.Pix[i] > 0 {
			inked++
		}
		if north.Pix[i] != south.Pix[i] {
			differ++
		}
	}
	if inked < 5000 || differ > b-a { // hatching may miss a pixel of each row in a slit
		t.Errorf("%d of %d inked pixels differ", differ, inked)
	}
}

// No two kinds look the same without their colour: width, dashes or bands differ.
func TestShapesDifferWithoutColour(t *testing.T) {
	t.Parallel()
	seen := map[string]kind{}
	table := styles()
	for _, k := range []kind{cragLine, steepLine, waterLine, bogLine, privateLine, plantationLine, roughLine, offPathLine, pathAreaLine, havenLine, followLine, catchingLine, escapeLine, escapeStopped, legLine, legStopped, sightLine, sightStopped, slipLine} {
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
	if p := got["m"]; p.Kind != plan.OfArea || !p.Closed || len(p.Points) != 4 {
		t.Errorf("the plantation: %+v", p)
	}
	if p := got["i"]; p.Kind != plan.OfHaven || p.Closed || len(p.Points) != 3 {
		t.Errorf("the road: %+v", p)
	}
	if p := got["k"]; p.Kind != plan.OfLine || len(p.Points) != 3 {
		t.Errorf("the wall: %+v", p)
	}
}

// Hatching stays within the outline, which has a bay here, and lies on lines that are still on
// the sheet, however the view is turned.
func TestHatchingStaysInside(t *testing.T) {
	t.Parallel()
	bay := []view.PicPt{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 60}, {X: 70, Y: 60}, {X: 70, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 100}, {X: 0, Y: 100}}
	img := image.NewRGBA(image.Rect(0, 0, 500, 500))
	const rim = 1e-9 // rounding
	for _, kind := range []plan.HazardKind{plan.Crag, plan.Bog} {
		for _, turn := range []float64{0, 30, 45, 135, 200} {
			clear(img.Pix)
			v := view.New(100, 100, 500, 500).ScaledTo(3, view.PicPt{X: 50, Y: 50}, view.ScreenPt{X: 250, Y: 250}).RotateTo(turn*math.Pi/180, view.ScreenPt{X: 250, Y: 250})
			u, p := NewHazard("u", kind, true, bay, ""), NewPainter()
			p.Onto(img, v, 1, Scene{}, img.Rect) // makes its lines
			p.img = img
			d := newDrawing(p, v, Scene{}, img.Rect)
			for _, s := range p.strips() {
				d.hatchShape(s, &u, d.onScreen(u.way()))
			}
			inked, lit := 0, 0
			for y := range 500 {
				for x := range 500 {
					at := v.ToPicture(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
					inside := at.X > -rim && at.X < 100+rim && at.Y > -rim && at.Y < 100+rim && !(at.X > 30+rim && at.X < 70-rim && at.Y < 60-rim)
					off, _ := slant(at, kind == plan.Crag)
					onLine := math.Abs(math.Remainder(off, 4))*3 < 0.5 // lines lie 4 px of the picture apart
					switch has := img.Pix[y*img.Stride+4*x+3] > 0; {
					case has && !inside:
						t.Fatalf("%s, turned by %g°: hatched at %v, outside", kind, turn, at)
					case inside && onLine:
						inked++
						if has {
							lit++
						}
					case has && inside && math.Abs(math.Remainder(off, 4))*3 > 1.2:
						t.Fatalf("%s, turned by %g°: hatched at %v, between the lines", kind, turn, at)
					}
				}
			}
			if lit < inked-40 || inked < 2000 { // some pixels of the rim count for the other side
				t.Errorf("%s, turned by %g°: %d of %d pixels on the lines are hatched", kind, turn, lit, inked)
			}
		}
	}
}
