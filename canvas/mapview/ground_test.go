package mapview

import (
	"testing"

	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// A mark hides the point of a haven that it stands on, but not from who asks for points of
// shapes.
func TestVertexUnderAMark(t *testing.T) {
	at := view.PicPt{X: 40, Y: 30}
	v := view.New(100, 80, 100, 80).OneToOne(view.ScreenPt{})
	g := newGround(overlay.Scene{
		Marks:  []overlay.Mark{{ID: "mark-1", At: at}},
		Havens: []overlay.Shape{overlay.NewHaven("haven-1", []view.PicPt{{X: 10, Y: 10}, at}, "")},
	}, &v)
	if s, ok := g.Snap(v.ToScreen(at), 8); !ok || s.Target.Kind != plan.OfMark {
		t.Errorf("found %+v, want the mark", s)
	}
	if s, ok := g.Vertex(v.ToScreen(at), 8); !ok || s.Target.ID != "haven-1" || s.Target.Index != 1 || s.At != at {
		t.Errorf("found %+v, want the haven's second point", s)
	}
	if s, ok := g.Vertex(v.ToScreen(view.PicPt{X: 70, Y: 60}), 8); ok {
		t.Errorf("found %+v far from everything", s)
	}
}

// The ends of the slit that leads to the hole of a hazard cannot be taken hold of, nor its sides
// clicked: they are not drawn. The corners of the hole can.
func TestSlitsCannotBeHeld(t *testing.T) {
	at := []view.PicPt{
		{X: 20, Y: 20},
		{X: 20, Y: 280},
		{X: 280, Y: 280},
		{X: 280, Y: 20},
		{X: 150.2, Y: 20},
		{X: 150.2, Y: 100},
		{X: 200, Y: 100},
		{X: 200, Y: 200},
		{X: 100, Y: 200},
		{X: 100, Y: 100},
		{X: 150, Y: 100},
		{X: 150, Y: 20},
	}
	v := view.New(300, 300, 300, 300).OneToOne(view.ScreenPt{})
	g := newGround(overlay.Scene{Hazards: []overlay.Shape{overlay.NewHazard("h", plan.Steep, true, at, "")}}, &v)
	for i, p := range at {
		_, held := g.Vertex(v.ToScreen(p), 3)
		if slit := p.X > 140 && p.X < 160; held == slit {
			t.Errorf("point %d at %v is held: %v", i, p, held)
		}
	}
	for _, c := range []struct {
		at   view.PicPt
		want bool
	}{{view.PicPt{X: 150, Y: 60}, false}, {view.PicPt{X: 150, Y: 20}, true}, {view.PicPt{X: 150, Y: 100}, true}, {view.PicPt{X: 100, Y: 150}, true}, {view.PicPt{X: 20, Y: 150}, true}} {
		if _, hit := g.Hit(v.ToScreen(c.at), 3); hit != c.want {
			t.Errorf("a click at %v meets the hazard: %v", c.at, hit)
		}
	}
}
