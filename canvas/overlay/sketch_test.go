package overlay

import (
	"fmt"
	"image"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// bearingOf is the grid bearing from one point of the picture to another.
func bearingOf(k Sketch, a, b view.PicPt) (units.GridBearing, float64) {
	p, q := k.grid(a), k.grid(b)
	g, _ := units.GridBearingOf(q.E-p.E, q.N-p.N)
	return g, math.Hypot(q.E-p.E, q.N-p.N)
}

func offDeg(a, b units.GridBearing) float64 { return math.Abs((a.Angle() - b.Angle()).Signed().Deg()) }

// However the sheet is turned, the arc begins where its north lies on the ground, ends
// on the line and goes clockwise all the way; norths that are spread change nothing in it.
func TestArcIsSweptFromItsNorthToTheLine(t *testing.T) {
	t.Parallel()
	at := pt(310, 190)
	for _, turned := range []float64{0, 37, -120, 180} {
		k := classroom(t, turned)
		for _, from := range norths() {
			for deg := 1.0; deg < 360; deg += 29 {
				a := k.Arc(at, from, grid(deg))
				last, swept := from.Bearing, 0.0
				for i, toward := range a.toward {
					g, _ := bearingOf(k, at, pt(at.X+toward.X, at.Y+toward.Y))
					step := (g.Angle() - last.Angle()).Signed().Deg()
					if i > 0 && (step <= 0 || step > 3.1) || i == 0 && math.Abs(step) > 0.01 {
						t.Fatalf("sheet turned by %v, from %v to %v: step %d is %.3f°", turned, from.North, deg, i, step)
					}
					swept, last = swept+step, g
				}
				want := (units.Degrees(deg) - from.Bearing.Angle()).Turn().Deg()
				if offDeg(last, grid(deg)) > 0.01 || math.Abs(swept-want) > 0.02 {
					t.Errorf("sheet turned by %v, from %v to %v: swept %.2f°, want %.2f°", turned, from.North, deg, swept, want)
				}
			}
		}
	}
}

// Small angles between norths are drawn larger by the figure that the note says, grid
// north as it lies; large ones are drawn as they are, without a note.
func TestNorthsAreSpreadAndSaySo(t *testing.T) {
	t.Parallel()
	k, at := classroom(t, 12), pt(300, 200)
	for _, c := range []struct {
		magnetic, true_, times float64
	}{
		{2.7, 5, 5},
		{-0.4, 0.9, 50},
		{12, -1.5, 5}, // no more than 60° either side
		{17, -9, 1},
		{0, 0, 1}, // nothing can tell them apart
		{0.005, 2, 5},
		{-12, 0, 1},
	} {
		list := []Toward{{units.GridNorth, 0}, {units.MagneticNorth, grid(c.magnetic)}, {units.TrueNorth, grid(c.true_)}}
		n := k.Norths(at, list)
		if n.Times != c.times || (n.Note != "") != (c.times > 1) {
			t.Errorf("%+v: spread %v times, note %q", c, n.Times, n.Note)
		}
		for i, l := range n.Lines {
			toward, _ := bearingOf(k, at, pt(at.X+l.toward.X, at.Y+l.toward.Y))
			spread, _ := bearingOf(k, at, pt(at.X+l.spread.X, at.Y+l.spread.Y))
			want := units.NewGridBearing(units.Angle(n.Times) * list[i].Bearing.Angle().Signed())
			if offDeg(toward, list[i].Bearing) > 0.01 || offDeg(spread, want) > 0.01 {
				t.Errorf("%+v: %v lies on %.2f°, its tip on %.2f°", c, l.North, toward.Angle().Deg(), spread.Angle().Deg())
			}
		}
	}
}

// The letter of each north stands on the drawing; where norths lie together one text
// has the letters of both.
func TestEveryNorthHasItsLetter(t *testing.T) {
	t.Parallel()
	v := flat()
	for _, c := range []struct {
		magnetic, true_ float64
		want            []string
	}{{2.7, 5, []string{"G", "M", "T"}}, {0, 20, []string{"G M", "T"}}, {0, 0, []string{"G M T"}}, {-17, 3, []string{"G", "M", "T"}}} {
		k := classroom(t, 0)
		list := []Toward{{units.GridNorth, 0}, {units.MagneticNorth, grid(c.magnetic)}, {units.TrueNorth, grid(c.true_)}}
		d := placed(v, 1, Scene{Lesson: Lesson{Norths: k.Norths(pt(300, 250), list)}})
		for _, want := range c.want {
			if !wrote(d, want) {
				t.Errorf("magnetic %v, true %v: no %q on the drawing", c.magnetic, c.true_, want)
			}
		}
	}
}

func flat() view.View {
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	return v.PanBy(-v.Offset().X, -v.Offset().Y)
}

// placed is a scene as it is placed for a view.
func placed(v view.View, px float64, s Scene) *drawing {
	w, h := v.Viewport()
	p, img := NewPainter(), image.NewRGBA(image.Rect(0, 0, w, h))
	p.prepare(img, px)
	return newDrawing(p, v, s, img.Rect)
}

func wrote(d *drawing, text string) bool {
	for _, w := range d.texts {
		if w.textImage.of.text == text {
			return true
		}
	}
	return false
}

// The wedge's edges lie by the tolerance beside the ray, and its hatching within it and
// on the sheet, also where the tolerance is half a turn or the ray begins off the sheet.
func TestWedgeLiesWithinItsTolerance(t *testing.T) {
	t.Parallel()
	k := classroom(t, 20)
	for _, from := range []view.PicPt{pt(300, 200), pt(5, 395), pt(-80, 120), pt(599, 1)} {
		for _, tolerance := range []float64{0.5, 5, 40, 90} {
			for deg := 3.0; deg < 360; deg += 51 {
				t.Run(fmt.Sprintf("%v %v %v", from, tolerance, deg), func(t *testing.T) { checkWedge(t, k, from, grid(deg), tolerance) })
			}
		}
	}
}

func checkWedge(t *testing.T, k Sketch, from view.PicPt, bearing units.GridBearing, tolerance float64) {
	r := k.Ray(from, bearing, units.Degrees(tolerance))
	for side, way := range map[float64][]view.PicPt{-1: r.left, 1: r.right, 0: r.line} {
		end := way[len(way)-1]
		g, _ := bearingOf(k, from, end)
		if want := units.NewGridBearing(bearing.Angle() + units.Degrees(side*tolerance)); offDeg(g, want) > 0.01 || end.X > 0 && end.Y > 0 && end.X < 600 && end.Y < 400 {
			t.Errorf("side %v lies on %.2f° and ends at %v", side, g.Angle().Deg(), end)
		}
	}
	d := placed(flat(), 1, Scene{Lesson: Lesson{Rays: []Ray{r}}})
	for _, s := range d.lesson.hatch[0] {
		mid := pt((s.a.X+s.b.X)/2, (s.a.Y+s.b.Y)/2)
		for _, p := range []view.PicPt{pt(s.a.X, s.a.Y), mid, pt(s.b.X, s.b.Y)} {
			if from.Dist(p) < 1 {
				continue // no direction
			}
			if g, _ := bearingOf(k, from, p); offDeg(g, bearing) > tolerance+0.1 {
				t.Fatalf("hatching on %.2f°", g.Angle().Deg())
			}
		}
		if mid.X < min(from.X, 0)-1 || mid.Y < -1 || mid.X > 601 || mid.Y > 401 {
			t.Fatalf("hatching at %v, off the sheet", mid)
		}
	}
	if len(d.lesson.hatch[0]) == 0 && from == pt(300, 200) && tolerance > 1 {
		t.Error("the wedge is not hatched")
	}
}

// What slips lead to, guesses and the ellipse of a crossing lie where their bearings and
// distances put them on the ground.
func TestSketchedThingsLieWhereTheyBelong(t *testing.T) {
	t.Parallel()
	k, at := classroom(t, 63), pt(220, 310)
	e, ok := k.Led(at, grid(237), 900, "180° out")
	if g, m := bearingOf(k, at, e.To); !ok || offDeg(g, grid(237)) > 0.01 || math.Abs(m-900) > 0.5 {
		t.Errorf("led to %.2f°, %.1f m", g.Angle().Deg(), m)
	}
	median := grid(11)
	fan := k.Fan(at, 700, []units.GridBearing{grid(1), grid(359), grid(20)}, &median)
	for i, want := range []float64{1, 359, 20, 11} {
		if g, m := bearingOf(k, at, fan[i].To); offDeg(g, grid(want)) > 0.01 || math.Abs(m-700) > 0.5 || fan[i].Median != (i == 3) {
			t.Errorf("guess %d lies on %.2f°, %.1f m, median %v", i, g.Angle().Deg(), m, fan[i].Median)
		}
	}
	line := LessonLine{From: at, To: pt(320, 310)}
	for i, l := range line.Ticks(500, []float64{250, 750}, nil) {
		if want := []float64{270, 370}[i]; !l.Across || math.Abs(l.To.X-want) > 1e-9 || l.To.Y != 310 {
			t.Errorf("tick %d lies at %v", i, l.To)
		}
	}
	for _, p := range k.Crossing(at, 300, 100, grid(30), "").rim {
		g, m := bearingOf(k, at, p)
		sin, cos := math.Sincos((g.Angle() - units.Degrees(30)).Rad())
		if u := math.Hypot(m*cos/300, m*sin/100); math.Abs(u-1) > 0.01 {
			t.Errorf("the ellipse passes %.0f m on %.1f°", m, g.Angle().Deg())
		}
	}
}

// Wherever the sheet is moved, no part of the screen of 700 × 280 lacks a whole watermark.
func TestNoPartLacksTheWatermark(t *testing.T) {
	t.Parallel()
	for _, move := range [][2]float64{{0, 0}, {137, 61}, {-333, 290}, {1901, -777}} {
		v := view.New(4000, 3000, 1920, 1080).OneToOne(view.ScreenPt{}).PanBy(move[0], move[1])
		d := placed(v, 1, Scene{Lesson: Lesson{Watermark: "TRAINING GMA 12° east"}})
		size := d.lesson.water.Rect.Size()
		for y := 0; y+280 <= 1080; y += 40 {
			for x := 0; x+700 <= 1920; x += 40 {
				part, whole := image.Rect(x, y, x+700, y+280), false
				for _, at := range d.lesson.drops {
					whole = whole || image.Rectangle{Min: at, Max: at.Add(size)}.In(part)
				}
				if !whole {
					t.Fatalf("moved by %v: no whole watermark in %v", move, part)
				}
			}
		}
	}
}

// Without a calibration there is no sketch, and the zero Sketch makes nothing.
func TestNoSketchWithoutCalibration(t *testing.T) {
	t.Parallel()
	_, r, _ := outing(t)
	p := r.Plan().SetSheet(plan.Sheet{ID: "sheet-1", Width: 10, Height: 10})
	bare, err := r.For(p)
	if err != nil {
		t.Fatal(err)
	}
	for what, k := range map[string]Sketch{"bare": must(SketchOn(bare, "")), "no such sheet": must(SketchOn(r, "no")), "zero": {}} {
		if _, ok := k.Position(plan.Position{}); ok || len(k.Norths(pt(1, 1), norths()).Lines) > 0 || len(k.Arc(pt(1, 1), norths()[0], grid(9)).toward) > 0 {
			t.Errorf("%s: something is drawn", what)
		}
		l := Lesson{Rays: []Ray{k.Ray(pt(1, 1), grid(9), 0.1)}, Fan: k.Fan(pt(1, 1), 9, []units.GridBearing{1}, nil), Crossings: []Crossing{k.Crossing(pt(1, 1), 9, 9, 0, "")}}
		NewPainter().Paint(100, 100, flat(), 1, Scene{Lesson: l}) // draws no ray and does not stumble
	}
	k, _ := SketchOn(r, "")
	if at, ok := k.End(plan.AtPosition(plan.Position{Origin: plan.Picked, Sheet: "sheet-1", At: calib.PicturePt{Col: 7, Row: 9}})); !ok || at != pt(7, 9) {
		t.Errorf("a picked end lies at %v, %v", at, ok)
	}
}

func must(k Sketch, _ bool) Sketch { return k }
