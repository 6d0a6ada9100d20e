package overlay

import (
	"image"
	"strings"
	"testing"

	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// escapesScene has an escape that may be walked, a draft and a chosen one, beside a leg, a
// sight and a wall that one of them follows, and the slips of the leg.
func escapesScene() Scene {
	at := func(x, y float64) view.PicPt { return view.PicPt{X: x, Y: y} }
	wall := []view.PicPt{at(60, 300), at(160, 250), at(260, 310), at(400, 330)}
	chosen := NewEscape("e3", []view.PicPt{at(430, 60), at(480, 200), at(570, 330)}, nil, "E02-1 to road 2", true)
	chosen.Selected = true
	return Scene{
		Lines:  []Shape{NewLine("k", false, wall, "wall 1")},
		Legs:   []Leg{{ID: "leg-1", From: at(40, 60), To: at(430, 60), LengthM: 700, Label: "1: 090° mag  700 m"}},
		Sights: []Sight{{ID: "sight-1", From: at(40, 60), To: at(400, 130)}},
		Escapes: []Escape{
			NewEscape("e1", []view.PicPt{at(40, 60), at(60, 300), at(400, 330)}, [][]view.PicPt{nil, wall[1:3]}, "DRAFT E01-1 to Shieling", true),
			NewEscape("e2", []view.PicPt{at(430, 60), at(300, 230), at(500, 360)}, nil, "E02-2 to Far Bothy", false),
			chosen,
		},
		Slips: []Slip{{at(40, 60), at(40, 160), "GMA added"}, {at(40, 60), at(160, 20), "tens misread"}},
		Marks: []Mark{{ID: "m", At: at(40, 60), Name: "Cairn"}, {ID: "n", At: at(430, 60), Name: "Col"}},
	}
}

func TestGoldenEscapes(t *testing.T) {
	t.Parallel()
	whole := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	whole = whole.PanBy(-whole.Offset().X, -whole.Offset().Y)
	faint := escapesScene()
	faint.Faint = true
	for name, c := range map[string]struct {
		v  view.View
		px float64
		s  Scene
	}{
		"escapes":       {whole, 1, escapesScene()},
		"escapes-faint": {whole, 1, faint},
		"escapes-1.5":   {whole.WithViewport(900, 600).ScaledTo(1.5, view.PicPt{X: 300, Y: 200}, view.ScreenPt{X: 450, Y: 300}), 1.5, escapesScene()},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			w, h := c.v.Viewport()
			compareGolden(t, name, onPaper(NewPainter().Paint(w, h, c.v, c.px, c.s)))
		})
	}
}

// An escape is drawn from its mark along the wall that it follows; its name says DRAFT
// until it is ticked, and its ends are those of the plan.
func TestSceneOfEscapes(t *testing.T) {
	t.Parallel()
	p, r, c := outing(t)
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(27700), Origin: plan.Typed}
	}
	cairn, _ := p.MarkByID("cairn")
	p = p.AddLine(plan.Line{ID: "wall", Kind: plan.WallLine, Points: []plan.Position{at(217200, 772800), at(217600, 772800), at(217600, 772400)}})
	p = p.AddEscape(plan.Escape{ID: "e", Start: plan.AtMark(cairn), Legs: []plan.EscapeLeg{
		{To: plan.AtPosition(at(217300, 772800))}, {To: plan.AtPosition(at(217600, 772500)), Along: "wall"},
	}})
	r, err := r.For(p)
	if err != nil {
		t.Fatal(err)
	}
	s := SceneOf(p, r, c, Selection{ID: "e"}, Options{Labels: true, Escapes: escape.Of(r).Escapes})
	if len(s.Escapes) != 1 {
		t.Fatalf("%d escapes are drawn", len(s.Escapes))
	}
	e := s.Escapes[0]
	if !e.Stopped || !e.Selected || !strings.HasPrefix(e.Label, "DRAFT E02-1 to ") {
		t.Errorf("drawn as %q, stopped %v, chosen %v", e.Label, e.Stopped, e.Selected)
	}
	if len(e.Ends) != 3 || len(e.way) != 4 {
		t.Fatalf("it has %d ends and %d points; with the corner of the wall there are 3 and 4", len(e.Ends), len(e.way))
	}
	near(t, "the corner of the wall", e.way[2], view.PicPt{X: 840, Y: 680}, 2)
	var path Path
	s.Paths(func(x Path) {
		if x.Kind == plan.OfEscape {
			path = x
		}
	})
	if path.ID != "e" || len(path.Points) != 3 {
		t.Errorf("it is pointed at as %+v", path)
	}
	if len(s.Ends) != 2 {
		t.Errorf("%d letters stand at its two ends without marks", len(s.Ends))
	}
}

// Wherever a view shows a part of a draft with a point of it, its name is written in what is
// seen, and not in the margin that is drawn for panning.
func TestADraftIsNamedWhereItIsSeen(t *testing.T) {
	t.Parallel()
	var way []view.PicPt
	for i := range 40 { // pieces far too short for a name
		way = append(way, view.PicPt{X: 20 + 14*float64(i), Y: 200 + 6*float64(i%2)})
	}
	s := Scene{Escapes: []Escape{NewEscape("e", []view.PicPt{way[0], way[39]}, [][]view.PicPt{way[1:39]}, "DRAFT E01-1 to Shieling", true)}}
	whole := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	whole = whole.PanBy(-whole.Offset().X, -whole.Offset().Y)
	p := NewPainter()
	for _, seen := range []image.Rectangle{image.Rect(0, 0, 600, 400), image.Rect(100, 100, 420, 300), image.Rect(300, 150, 520, 260)} {
		p.prepare(image.NewRGBA(image.Rect(0, 0, 600, 400)), 1)
		d := newDrawing(p, whole, s, seen)
		if len(d.texts) != 1 || !d.texts[0].at.In(seen) {
			t.Errorf("of %v seen, its name stands at %v", seen, d.texts)
		}
	}
}
