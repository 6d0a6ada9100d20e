package planfile

import (
	"legwright/app/pace"
	"legwright/app/plan"
)

// Hazards, havens, lines and areas of ground are lists of vertices with what they are.

type hazardShape struct {
	ID      string          `json:"id"`
	Name    string          `json:"name,omitempty"`
	Kind    string          `json:"kind"`
	Closed  bool            `json:"closed,omitempty"`
	KeepM   float64         `json:"keep_m" need:"yes"`
	Crosses string          `json:"crossing,omitempty"`
	Note    string          `json:"note,omitempty"`
	Import  string          `json:"import,omitempty"`
	Points  []positionShape `json:"points"`
}

type havenShape struct {
	ID     string          `json:"id"`
	Name   string          `json:"name,omitempty"`
	Kind   string          `json:"kind"`
	OutMin *float64        `json:"out_min,omitempty"`
	Note   string          `json:"note,omitempty"`
	Import string          `json:"import,omitempty"`
	Points []positionShape `json:"points"`
}

type lineShape struct {
	ID       string          `json:"id"`
	Name     string          `json:"name,omitempty"`
	Kind     string          `json:"kind"`
	Catching bool            `json:"catching,omitempty"`
	Note     string          `json:"note,omitempty"`
	Import   string          `json:"import,omitempty"`
	Points   []positionShape `json:"points"`
}

type areaShape struct {
	ID     string          `json:"id"`
	Name   string          `json:"name,omitempty"`
	Ground string          `json:"ground"`
	Note   string          `json:"note,omitempty"`
	Import string          `json:"import,omitempty"`
	Points []positionShape `json:"points"`
}

func hazardToShape(h plan.Hazard) hazardShape {
	return hazardShape{
		ID: string(h.ID), Name: h.Name, Kind: string(h.Kind), Closed: h.Closed, KeepM: h.KeepM, Crosses: string(h.Crosses),
		Note: h.Note, Import: h.Import, Points: each(h.Points, positionToShape),
	}
}

func havenToShape(h plan.Haven) havenShape {
	out := havenShape{ID: string(h.ID), Name: h.Name, Kind: string(h.Kind), Note: h.Note, Import: h.Import, Points: each(h.Points, positionToShape)}
	if h.Out.Known {
		out.OutMin = &h.Out.Min
	}
	return out
}

func lineToShape(l plan.Line) lineShape {
	return lineShape{
		ID: string(l.ID), Name: l.Name, Kind: string(l.Kind), Catching: l.Catching,
		Note: l.Note, Import: l.Import, Points: each(l.Points, positionToShape),
	}
}

func (r *reader) hazard(s hazardShape) plan.Hazard {
	return plan.Hazard{
		ID: plan.ID(s.ID), Name: r.line("hazard", s.Name), Kind: plan.HazardKind(s.Kind), Closed: s.Closed, KeepM: s.KeepM, Crosses: plan.Crossing(s.Crosses),
		Note: r.lines("note", s.Note), Import: r.line("import", s.Import), Points: list(s.Points, r.position),
	}
}

func (r *reader) haven(s havenShape) plan.Haven {
	h := plan.Haven{
		ID: plan.ID(s.ID), Name: r.line("haven", s.Name), Kind: plan.HavenKind(s.Kind),
		Note: r.lines("note", s.Note), Import: r.line("import", s.Import), Points: list(s.Points, r.position),
	}
	if s.OutMin != nil {
		h.Out = plan.Minutes{Known: true, Min: *s.OutMin}
	}
	return h
}

func (r *reader) shapeLine(s lineShape) plan.Line {
	return plan.Line{
		ID: plan.ID(s.ID), Name: r.line("line", s.Name), Kind: plan.LineKind(s.Kind), Catching: s.Catching,
		Note: r.lines("note", s.Note), Import: r.line("import", s.Import), Points: list(s.Points, r.position),
	}
}

func areaToShape(a plan.Area) areaShape {
	return areaShape{
		ID: string(a.ID), Name: a.Name, Ground: string(a.Ground),
		Note: a.Note, Import: a.Import, Points: each(a.Points, positionToShape),
	}
}

func (r *reader) area(s areaShape) plan.Area {
	return plan.Area{
		ID: plan.ID(s.ID), Name: r.line("area", s.Name), Ground: pace.Ground(s.Ground),
		Note: r.lines("note", s.Note), Import: r.line("import", s.Import), Points: list(s.Points, r.position),
	}
}
