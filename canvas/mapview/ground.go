package mapview

import (
	"math"

	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// ground answers the machine's questions from the scene that is shown.
type ground struct {
	scene  overlay.Scene
	view   *view.View
	points []tool.Spot
}

func newGround(s overlay.Scene, v *view.View) *ground {
	g := &ground{scene: s, view: v}
	for _, m := range s.Marks {
		g.add(m.At, tool.Mark, m.ID)
	}
	for _, l := range s.Legs {
		g.add(l.From, tool.LegFrom, l.ID)
		g.add(l.To, tool.LegTo, l.ID)
	}
	for _, l := range s.Sights {
		g.add(l.From, tool.SightFrom, l.ID)
		g.add(l.To, tool.SightTo, l.ID)
	}
	return g
}

func (g *ground) add(p view.PicPt, part tool.Part, id plan.ID) {
	g.points = append(g.points, tool.Spot{At: p, Target: tool.Target{Part: part, ID: id}})
}

// Snap implements tool.Ground. Of several at one distance the first wins, so
// marks go before the ends that stand on them.
func (g *ground) Snap(at view.ScreenPt, radius float64) (best tool.Spot, found bool) {
	reach := radius
	for _, s := range g.points {
		if d := g.view.ToScreen(s.At).Dist(at); d < reach || (!found && d <= reach) {
			best, found, reach = s, true, d
		}
	}
	return best, found
}

// Hit implements tool.Ground.
func (g *ground) Hit(at view.ScreenPt, radius float64) (tool.Spot, bool) {
	for i, c := range g.scene.Controls {
		if g.view.ToScreen(c.At).Dist(at) <= radius {
			return tool.Spot{At: c.At, Target: tool.Target{Part: tool.Control, Index: i}}, true
		}
	}
	if s, ok := g.Snap(at, radius); ok {
		return s, true
	}
	return g.hitLine(at, radius)
}

func (g *ground) hitLine(at view.ScreenPt, radius float64) (best tool.Spot, found bool) {
	try := func(from, to view.PicPt, part tool.Part, id plan.ID) {
		if d := g.distance(at, from, to); d <= radius {
			radius, found = d, true
			best = tool.Spot{At: g.view.ToPicture(at), Target: tool.Target{Part: part, ID: id}}
		}
	}
	for _, l := range g.scene.Legs {
		try(l.From, l.To, tool.LegLine, l.ID)
	}
	for _, l := range g.scene.Sights {
		try(l.From, l.To, tool.SightLine, l.ID)
	}
	return best, found
}

// distance is how far at lies from a line, in screen pixels.
func (g *ground) distance(at view.ScreenPt, from, to view.PicPt) float64 {
	a, b := g.view.ToScreen(from), g.view.ToScreen(to)
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = min(max(((at.X-a.X)*dx+(at.Y-a.Y)*dy)/n, 0), 1)
	}
	return math.Hypot(at.X-a.X-t*dx, at.Y-a.Y-t*dy)
}
