package mapview

import (
	"math"

	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// exact corrects a free position to what is really drawn there. Full tiles
// are drawn on whole pixels by the view's own lattice; the last tile of a row
// or column is narrower, its far edge is rounded, and its pixels stretched by
// up to half a screen pixel. Positions drawn to a target are left alone.
func (m *MapView) exact(s tool.Spot) tool.Spot {
	if s.Target.Part == tool.Nothing || !s.Target.Part.IsPoint() {
		s.At = m.drawnAt(m.view.ToScreen(s.At))
	}
	return s
}

// drawnAt is the picture position drawn at s.
func (m *MapView) drawnAt(s view.ScreenPt) view.PicPt {
	p := m.view.ToPicture(s)
	if m.pic == nil || m.view.Rotation() != 0 {
		return p
	}
	level, side := levelOf(m.view, 0, m.pic.Levels())
	size := m.pic.LevelSize(level)
	o := m.view.Offset()
	return view.PicPt{
		X: stretched(p.X, s.X-o.X, side, level, size.X),
		Y: stretched(p.Y, s.Y-o.Y, side, level, size.Y),
	}
}

// stretched inverts the rounded extent of the last tile along one axis: d is
// the distance in screen pixels from the picture's corner, size the level's.
// Elsewhere it is p.
func stretched(p, d, side float64, level, size int) float64 {
	const t = pyramid.TileSize
	last := float64((size - 1) / t)
	rest := float64(size) - last*t
	from := math.Round(last * side)
	drawn := max(1, math.Round(last*side+side*rest/t)-from)
	if rest == t || d < from || d > from+drawn {
		return p
	}
	return math.Ldexp(last*t+(d-from)/drawn*rest, level)
}
