package mapview

import (
	"math"

	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// ground answers the machine's questions from the scene that is shown.
type ground struct {
	scene  overlay.Scene
	view   *view.View
	points []tool.Spot
	lines  []overlay.Path
}

func newGround(s overlay.Scene, v *view.View) *ground {
	g := &ground{scene: s, view: v}
	s.Paths(func(p overlay.Path) {
		for i, at := range p.Points {
			if p.Handle(i) {
				g.points = append(g.points, tool.Spot{At: at, Target: tool.Target{Part: tool.Point, Kind: p.Kind, ID: p.ID, Index: i}})
			}
		}
		if len(p.Points) > 1 {
			g.lines = append(g.lines, p)
		}
	})
	return g
}

// Snap implements tool.Ground. Of several at one distance the first wins, so
// marks go before the ends that stand on them.
func (g *ground) Snap(at view.ScreenPt, radius float64) (tool.Spot, bool) {
	return g.nearest(at, radius, func(tool.Target) bool { return true })
}

// Vertex implements tool.Ground.
func (g *ground) Vertex(at view.ScreenPt, radius float64) (tool.Spot, bool) {
	return g.nearest(at, radius, tool.Target.IsVertex)
}

// nearest is the nearest point among some within the radius.
func (g *ground) nearest(at view.ScreenPt, radius float64, among func(tool.Target) bool) (best tool.Spot, found bool) {
	reach := radius
	for _, s := range g.points {
		if !among(s.Target) {
			continue
		}
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
	for _, p := range g.lines {
		for i := range p.Points {
			if !p.Side(i) {
				continue
			}
			if d := g.distance(at, p.Points[i], p.Points[(i+1)%len(p.Points)]); d <= radius {
				radius, found = d, true
				best = tool.Spot{At: g.view.ToPicture(at), Target: tool.Target{Part: tool.Line, Kind: p.Kind, ID: p.ID, Index: i}}
			}
		}
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
