package planfile

import "legwright/app/plan"

type escapeShape struct {
	ID     string           `json:"id"`
	Name   string           `json:"name,omitempty"`
	Start  endShape         `json:"start"`
	Legs   []escapeLegShape `json:"escape_legs"`
	Chosen bool             `json:"chosen,omitempty"`
	Note   string           `json:"note,omitempty"`
}

type escapeLegShape struct {
	To      endShape    `json:"to"`
	Along   string      `json:"along,omitempty"`
	Climb   *float64    `json:"climb_m,omitempty"`
	Descent *float64    `json:"descent_m,omitempty"`
	Ticks   *ticksShape `json:"ticked,omitempty"`
}

// ticksShape is what a leader looked at, and the fingerprint of what it was given for.
type ticksShape struct {
	Contours bool   `json:"contours,omitempty"`
	Crags    bool   `json:"crags,omitempty"`
	Water    bool   `json:"water,omitempty"`
	End      bool   `json:"end_feature,omitempty"`
	Of       string `json:"of"`
}

func escapeToShape(e plan.Escape) escapeShape {
	return escapeShape{ID: string(e.ID), Name: e.Name, Start: endToShape(e.Start), Chosen: e.Chosen, Note: e.Note, Legs: each(e.Legs, escapeLegToShape)}
}

func escapeLegToShape(l plan.EscapeLeg) escapeLegShape {
	out := escapeLegShape{To: endToShape(l.To), Along: string(l.Along), Climb: countedToShape(l.Climb), Descent: countedToShape(l.Descent)}
	if t := l.Ticks; t != (plan.Ticks{}) {
		out.Ticks = &ticksShape{t.Contours, t.Crags, t.Water, t.End, t.Of}
	}
	return out
}

func (r *reader) escape(s escapeShape) plan.Escape {
	return plan.Escape{
		ID: plan.ID(s.ID), Name: r.line("escape", s.Name), Start: r.end(s.Start), Chosen: s.Chosen,
		Note: r.lines("note", s.Note), Legs: list(s.Legs, r.escapeLeg),
	}
}

func (r *reader) escapeLeg(s escapeLegShape) plan.EscapeLeg {
	l := plan.EscapeLeg{To: r.end(s.To), Along: plan.ID(s.Along), Climb: counted(s.Climb), Descent: counted(s.Descent)}
	if t := s.Ticks; t != nil {
		l.Ticks = plan.Ticks{Contours: t.Contours, Crags: t.Crags, Water: t.Water, End: t.End, Of: t.Of}
	}
	return l
}
