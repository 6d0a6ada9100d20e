package planfile

import (
	"legwright/app/plan"
)

type markShape struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Position positionShape `json:"position"`
	Note     string        `json:"note,omitempty"`
	InCloud  bool          `json:"recognisable_in_cloud,omitempty"`
	Import   string        `json:"import,omitempty"`
}

func markToShape(m plan.Mark) markShape {
	return markShape{ID: string(m.ID), Name: m.Name, Position: positionToShape(m.Position), Note: m.Note, InCloud: m.InCloud, Import: m.Import}
}

func (r *reader) mark(s markShape) plan.Mark {
	return plan.Mark{ID: plan.ID(s.ID), Name: r.line("mark", s.Name), Position: r.position(s.Position), Note: r.lines("note", s.Note), InCloud: s.InCloud, Import: r.line("import", s.Import)}
}
