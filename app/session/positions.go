package session

import "legwright/app/plan"

// mostAlong is how many positions of a track PositionsOf returns at most.
const mostAlong = 512

// PositionsOf returns the positions of the points of a thing, or positions along a track on
// the sheet's grid; none for an ID that nothing has.
func (s *Session) PositionsOf(id plan.ID) []plan.Position {
	p := s.Plan()
	if t, ok := p.TrackByID(id); ok {
		return s.along(t)
	}
	t, _ := p.ThingByID(id)
	var out []plan.Position
	for _, e := range t.Points {
		out = append(out, p.Resolve(e))
	}
	return out
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
