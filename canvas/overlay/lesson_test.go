package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// classroom is a sketch of a sheet of 600 × 400 pixels at 5 m a pixel whose grid
// lies turned by so many degrees clockwise in the picture.
func classroom(t testing.TB, turned float64) Sketch {
	t.Helper()
	s := plan.Sheet{ID: "sheet-1", Width: 600, Height: 400, Code: geodesy.EPSG(27700), Medium: calib.Scan}
	sin, cos := math.Sincos(turned * math.Pi / 180)
	for _, p := range [][2]float64{{60, 60}, {540, 60}, {540, 340}, {60, 340}} {
		x, y := 5*(p[0]-300), -5*(p[1]-200)
		ref := geodesy.Grid{E: 217500 + x*cos - y*sin, N: 773000 + x*sin + y*cos}
		s.Points = append(s.Points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: ref, Text: "x"})
	}
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 25})
	p.Sheets = []plan.Sheet{s}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	k, ok := SketchOn(r, "")
	if !ok {
		t.Fatal("no sketch of a calibrated sheet")
	}
	return k
}

func grid(deg float64) units.GridBearing { return units.NewGridBearing(units.Degrees(deg)) }

// norths are the three norths of ground with a GMA of 2.7° east and γ of −5°.
func norths() []Toward {
	return []Toward{{units.GridNorth, 0}, {units.MagneticNorth, grid(2.7)}, {units.TrueNorth, grid(5)}}
}

func pt(x, y float64) view.PicPt { return view.PicPt{X: x, Y: y} }

// shownScene is a line with its norths and the angle swept from magnetic north, under a
// training GMA.
func shownScene(t testing.TB) Scene {
	k := classroom(t, 0)
	at, to := pt(210, 230), pt(420, 330)
	return Scene{Lesson: Lesson{
		Norths: k.Norths(at, norths()), Arc: k.Arc(at, norths()[1], grid(115.5)),
		Line: &LessonLine{From: at, To: to, Label: "113° mag  1 160 m"}, Watermark: "TRAINING GMA 12° east",
	}}
}

// guessedScene is a fan of thirty guesses with their median, what slips lead to and
// guessed distances along another line.
func guessedScene(t testing.TB) Scene {
	k := classroom(t, 0)
	at := pt(120, 250)
	var l Lesson
	var guesses []units.GridBearing
	for i := range 30 {
		guesses = append(guesses, grid(30+2.3*float64(i)))
	}
	median := grid(61)
	l.Fan = k.Fan(at, 1100, guesses, &median)
	other := LessonLine{From: pt(330, 300), To: pt(540, 280)}
	l.Line = &other
	most := 830.0
	l.Fan = append(l.Fan, other.Ticks(1055, []float64{600, 750, 900, 1300}, &most)...)
	for _, s := range []struct {
		deg   float64
		label string
	}{{245, "this slip leads the opposite way,\n1000 m off after 500 m"}, {125, "south for north"}, {299, "west for east"}} {
		e, ok := k.Led(at, grid(s.deg), 500, s.label)
		if !ok {
			t.Fatal("a slip leads nowhere")
		}
		l.Led = append(l.Led, e)
	}
	return Scene{Lesson: l}
}

// judgedScene has the rays of two people with their wedges, their crossing and features
// that fit and do not.
func judgedScene(t testing.TB) Scene {
	k := classroom(t, 0)
	a, b := k.Ray(pt(90, 330), grid(50), units.Degrees(5)), k.Ray(pt(520, 340), grid(318), units.Degrees(4))
	a.Label, b.Label, b.Second = "050° grid ± 5°", "318° grid ± 4°", true
	return Scene{
		Lesson: Lesson{
			Rays: []Ray{a, b}, Crossings: []Crossing{k.Crossing(pt(330, 129), 260, 120, grid(20), "± 260 m")},
			Features: []Feature{
				{At: pt(345, 120), Fit: FitsWell},
				{At: pt(270, 140), Name: "Boulder", Fit: FitsBarely},
				{At: pt(120, 120), Name: "Pillar", Fit: CannotFit},
				{At: pt(450, 110), Name: "Pool"},
			},
		},
		Marks: []Mark{{ID: "m", At: pt(345, 120), Name: "Cairn"}},
	}
}

func TestLessonGolden(t *testing.T) {
	t.Parallel()
	whole := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	whole = whole.PanBy(-whole.Offset().X, -whole.Offset().Y)
	large := whole.WithViewport(1500, 1000).ScaledTo(2.5, pt(300, 200), view.ScreenPt{X: 750, Y: 500})
	for _, c := range []struct {
		name string
		v    view.View
		px   float64
		s    Scene
	}{
		{"lesson-shown", whole, 1, shownScene(t)},
		{"lesson-guessed", whole, 1, guessedScene(t)},
		{"lesson-judged", whole, 1, judgedScene(t)},
		{"lesson-turned", whole.RotateTo(0.7, whole.Middle()), 1, judgedScene(t)},
		{"lesson-projected", large, 2.5, shownScene(t)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w, h := c.v.Viewport()
			compareGolden(t, c.name, onPaper(NewPainter().Paint(w, h, c.v, c.px, c.s)))
		})
	}
	t.Run("lesson-night", func(t *testing.T) {
		t.Parallel()
		p := NewPainter()
		p.SetNight(true)
		ground := image.NewRGBA(image.Rect(0, 0, 600, 400))
		draw.Draw(ground, ground.Rect, image.NewUniform(color.RGBA{0x30, 0x28, 0x18, 0xff}), image.Point{}, draw.Src)
		s := judgedScene(t)
		s.Lesson.Norths, s.Lesson.Arc, s.Lesson.Watermark = shownScene(t).Lesson.Norths, shownScene(t).Lesson.Arc, "TRAINING GMA 12° east"
		draw.Draw(ground, ground.Rect, p.Paint(600, 400, whole, 1, s), image.Point{}, draw.Over)
		compareGolden(t, "lesson-night", ground)
	})
}

// The ± of where two sightings cross is written clear of the symbol round the feature
// there: over that one its ± would be lost.
func TestCrossingClearsFits(t *testing.T) {
	t.Parallel()
	k, p := classroom(t, 0), NewPainter()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	cairn := pt(300, 200)
	for deg := 0.0; deg < 360; deg += 15 {
		for away := 0.0; away <= 40; away += 8 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			at := pt(cairn.X+away*sin, cairn.Y-away*cos)
			p.Paint(600, 400, v, 1, Scene{})
			p.img = image.NewRGBA(image.Rect(0, 0, 600, 400))
			d := newDrawing(p, v, Scene{Lesson: Lesson{
				Crossings: []Crossing{k.Crossing(at, 260, 120, grid(20), "± 260 m")},
				Features:  []Feature{{At: cairn, Fit: FitsWell}},
			}}, p.img.Rect)
			if len(d.texts) != 1 {
				t.Fatalf("%d texts, want the ± alone", len(d.texts))
			}
			halo := d.texts[0].textImage
			ink := d.texts[0].at.Inset(int(halo.of.halo()) + 4)
			if ring := image.Rect(282, 182, 318, 218); ink.Overlaps(ring) {
				t.Errorf("%v pixels away at %v°: the text at %v lies over the ring at %v", away, deg, ink, ring)
			}
		}
	}
}
