package session

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"legwright/app/pace"
	"legwright/app/plan"
)

// The intentions here add hazards, havens, lines and areas of ground, and change the vertices of any of
// them.

// AddHazard adds a hazard of that kind along points, as an area if it is closed, with the
// usual distance to keep, and selects it. The error is a *Refused or a *plan.Invalid.
func (s *Session) AddHazard(kind plan.HazardKind, closed bool, points []plan.Position) (plan.ID, error) {
	h := plan.Hazard{ID: s.Plan().NextID(plan.OfHazard), Kind: kind, Closed: closed, Points: apart(points, closed), KeepM: s.defaultKeepM(kind)}
	if h.Tangled() {
		return "", errTangled
	}
	return h.ID, s.add("add hazard", h.ID, s.Plan().AddHazard(h))
}

// AddHaven adds a haven of that kind at a point or along a line and selects it.
func (s *Session) AddHaven(kind plan.HavenKind, points []plan.Position) (plan.ID, error) {
	h := plan.Haven{ID: s.Plan().NextID(plan.OfHaven), Kind: kind, Points: apart(points, false)}
	return h.ID, s.add("add haven", h.ID, s.Plan().AddHaven(h))
}

// AddLine adds a line of that kind and selects it.
func (s *Session) AddLine(kind plan.LineKind, points []plan.Position) (plan.ID, error) {
	l := plan.Line{ID: s.Plan().NextID(plan.OfLine), Kind: kind, Points: apart(points, false)}
	return l.ID, s.add("add line", l.ID, s.Plan().AddLine(l))
}

// AddArea adds an area of one ground within an outline and selects it. The error is a *Refused
// or a *plan.Invalid.
func (s *Session) AddArea(g pace.Ground, points []plan.Position) (plan.ID, error) {
	a := plan.Area{ID: s.Plan().NextID(plan.OfArea), Ground: g, Points: apart(points, true)}
	if a.Tangled() {
		return "", errTangled
	}
	return a.ID, s.add("add area", a.ID, s.Plan().AddArea(a))
}

// SetAreaGround says what the ground of an area is.
func (s *Session) SetAreaGround(id plan.ID, g pace.Ground) error {
	a, ok := s.Plan().AreaByID(id)
	if !ok {
		return &NotFound{"area", id}
	}
	if a.Ground == g {
		return nil
	}
	a.Ground = g
	return s.do("change ground of area", "", s.Plan().SetArea(a))
}

// apart returns points without those that repeat the one before them, and the last one of
// an outline without its first.
func apart(points []plan.Position, closed bool) []plan.Position {
	out := slices.CompactFunc(slices.Clone(points), plan.Position.Same)
	if n := len(out); closed && n > 1 && out[0].Same(out[n-1]) {
		out = out[:n-1]
	}
	return out
}

// InsertPoint puts one more vertex into a hazard, haven, line or area, before its vertex n,
// counted from 0, or behind the last.
func (s *Session) InsertPoint(id plan.ID, n int, at plan.Position) error {
	_, word, err := s.shaped(id)
	if err != nil {
		return err
	}
	return s.reshape("add point to "+word, "", id, s.Plan().InsertPoint(id, n, at))
}

// RemovePoint takes vertex n out of a hazard, haven, line or area. The error is a *Refused
// where it would have too few left.
func (s *Session) RemovePoint(id plan.ID, n int) error {
	t, word, err := s.shaped(id)
	if err != nil {
		return err
	}
	switch have, least := s.Plan().Vertices(id); {
	case n < 0 || n >= len(t.Points):
		return refuse("the %s has no point %d", word, n+1)
	case have <= least:
		return refuse("the %s needs at least %s: delete the whole %s instead", word, pointsOf(least), word)
	}
	return s.reshape("delete point from "+word, "", id, s.Plan().RemovePoint(id, n))
}

// errTangled refuses an outline of which nobody could say what lies inside.
var errTangled = &Refused{"the outline crosses itself: place its points one after the other around the area"}

// reshape is do for a plan in which a thing has another shape.
func (s *Session) reshape(name, key string, id plan.ID, next *plan.Plan) error {
	h, _ := next.HazardByID(id)
	if a, _ := next.AreaByID(id); h.Tangled() || a.Tangled() {
		return errTangled
	}
	return s.do(name, key, next)
}

func pointsOf(n int) string {
	if n == 1 {
		return "1 point"
	}
	return fmt.Sprintf("%d points", n)
}

// shaped returns the thing with that ID if it has vertices.
func (s *Session) shaped(id plan.ID) (plan.Thing, string, error) {
	t, word, err := s.thing(id)
	if n, _ := s.Plan().Vertices(id); err == nil && n == 0 {
		err = refuse("points cannot be added to this %s or deleted from it", word)
	}
	return t, word, err
}

// defaultKeepM is the usual distance to keep from hazards of a kind, metres.
func (s *Session) defaultKeepM(kind plan.HazardKind) float64 {
	return kind.DefaultKeepM(s.postM())
}

// parseMetres reads a distance such as 50 or 50 m.
func parseMetres(text string) (float64, error) {
	return parseNumber(text, "a distance in metres: type metres only, such as 50", "m", "metres")
}

// parseMinutes reads a time such as 45 or 45 min, and nothing as unknown.
func parseMinutes(text string) (plan.Minutes, error) {
	if tidy(text) == "" {
		return plan.Minutes{}, nil
	}
	min, err := parseNumber(text, "a number of minutes: type minutes only, such as 45", "min", "minutes")
	return plan.Minutes{Known: err == nil, Min: min}, err
}

// parseNumber reads a number of at least 0, with its unit or without.
func parseNumber(text, want string, units ...string) (float64, error) {
	body := strings.ToLower(strings.Join(strings.Fields(text), ""))
	for _, u := range units {
		if digits, ok := strings.CutSuffix(body, u); ok {
			body = digits
			break
		}
	}
	x, err := strconv.ParseFloat(body, 64)
	if err != nil || !(x >= 0) { // NaN fails too
		return 0, refuse("%q is not %s", tidy(text), want)
	}
	return x, nil
}
