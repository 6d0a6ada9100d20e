package session

import "legwright/app/plan"

// mostAlong is how many positions of a track PositionsOf returns at most.
const mostAlong = 512

// PositionsOf returns the position of a mark, or of both ends of a leg or sight, or
// positions along a track on the sheet's grid; none for any other ID.
func (s *Session) PositionsOf(id plan.ID) []plan.Position {
	p := s.Plan()
	if l, ok := p.LegByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if l, ok := p.SightByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if m, ok := p.MarkByID(id); ok {
		return []plan.Position{m.Position}
	}
	t, _ := p.TrackByID(id)
	return s.along(t)
}

// along returns positions along a track, evenly among its points.
func (s *Session) along(t plan.Track) (out []plan.Position) {
	sys := s.Reader().System()
	if sys == nil {
		return nil
	}
	step := (len(t.Points) + mostAlong - 1) / mostAlong
	for i := 0; i < len(t.Points); i += step {
		if g, _, _, err := sys.FromWGS84(t.Points[i]); err == nil {
			out = append(out, plan.ImportedAt(sys.Code(), g, ImportSigmaM))
		}
	}
	return out
}
