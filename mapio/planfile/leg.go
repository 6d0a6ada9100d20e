package planfile

import (
	"legwright/app/pace"
	"legwright/app/plan"
)

type endShape struct {
	Mark     string         `json:"mark,omitempty"`
	Letter   string         `json:"letter,omitempty"`
	Position *positionShape `json:"position,omitempty"`
}

type legShape struct {
	ID       string   `json:"id"`
	From     endShape `json:"from"`
	To       endShape `json:"to"`
	Name     string   `json:"name,omitempty"`
	TickOff  string   `json:"tick_off_feature,omitempty"`
	Catching string   `json:"catching_feature,omitempty"`
	Note     string   `json:"note,omitempty"`
	Climb    *float64 `json:"climb_m,omitempty"`
	Descent  *float64 `json:"descent_m,omitempty"`
	Ground   string   `json:"ground,omitempty"`
	Import   string   `json:"import,omitempty"`
}

type sightShape struct {
	ID   string   `json:"id"`
	From endShape `json:"from"`
	To   endShape `json:"to"`
	Name string   `json:"name,omitempty"`
	Note string   `json:"note,omitempty"`
}

func endToShape(e plan.End) endShape {
	if e.Mark != "" {
		return endShape{Mark: string(e.Mark)}
	}
	pos := positionToShape(e.Position)
	return endShape{Letter: e.Letter, Position: &pos}
}

func legToShape(l plan.Leg) legShape {
	return legShape{
		ID: string(l.ID), From: endToShape(l.From), To: endToShape(l.To),
		Name: l.Name, TickOff: l.TickOff, Catching: l.Catching, Note: l.Note, Climb: countedToShape(l.Climb), Descent: countedToShape(l.Descent),
		Ground: string(l.Ground), Import: l.Import,
	}
}

func sightToShape(s plan.Sight) sightShape {
	return sightShape{
		ID: string(s.ID), From: endToShape(s.From), To: endToShape(s.To), Name: s.Name, Note: s.Note,
	}
}

func (r *reader) end(s endShape) plan.End {
	e := plan.End{Mark: plan.ID(s.Mark), Letter: s.Letter}
	switch {
	case s.Mark == "" && s.Position == nil:
		r.fail("an end has neither a mark nor a position")
	case s.Mark == "":
		e.Position = r.position(*s.Position)
	}
	return e
}

func (r *reader) leg(s legShape) plan.Leg {
	return plan.Leg{
		ID: plan.ID(s.ID), From: r.end(s.From), To: r.end(s.To),
		Name: r.line("leg", s.Name), TickOff: r.lines("tick-off feature", s.TickOff), Catching: r.lines("catching feature", s.Catching),
		Note: r.lines("note", s.Note), Climb: counted(s.Climb), Descent: counted(s.Descent),
		Ground: pace.Ground(s.Ground), Import: r.line("import", s.Import),
	}
}

func (r *reader) sight(s sightShape) plan.Sight {
	return plan.Sight{ID: plan.ID(s.ID), From: r.end(s.From), To: r.end(s.To), Name: r.line("sight", s.Name), Note: r.lines("note", s.Note)}
}
