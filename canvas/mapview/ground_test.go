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
