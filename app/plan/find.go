package plan

import (
	"slices"

	"legwright/app/geodesy"
)

// Sheet returns the first sheet, for those who know of one only: whoever shows a plan
// to a person asks session.Sheet for the one that is shown. It reports false where there
// is none.
func (p *Plan) Sheet() (Sheet, bool) {
	if len(p.Sheets) == 0 {
		return Sheet{}, false
	}
	return p.Sheets[0], true
}

// SheetByID returns the sheet with that ID.
func (p *Plan) SheetByID(id ID) (Sheet, bool) {
	return find(p.Sheets, func(s Sheet) bool { return s.ID == id })
}

// SheetOf returns the sheet whose picture has that SHA-256 and is that page.
func (p *Plan) SheetOf(sha string, page Page) (Sheet, bool) {
	return find(p.Sheets, func(s Sheet) bool { return sha != "" && s.SHA256 == sha && s.Page == page })
}

// Code returns the grid of the plan's sheets, or "" while none has one.
func (p *Plan) Code() geodesy.Code {
	s, _ := find(p.Sheets, func(s Sheet) bool { return s.Code != "" })
	return s.Code
}

// MarkByID returns the mark with that ID.
func (p *Plan) MarkByID(id ID) (Mark, bool) {
	return find(p.Marks, func(m Mark) bool { return m.ID == id })
}

// MarkByName returns the first mark with that name, regardless of case.
func (p *Plan) MarkByName(name string) (Mark, bool) {
	return find(p.Marks, func(m Mark) bool { return sameName(m.Name, name) })
}

// MarkTyped returns the mark that a person means who types its name: that of MarkByName,
// or else the only one so called without its accents, which few keyboards have.
func (p *Plan) MarkTyped(name string) (Mark, bool) {
	if m, ok := p.MarkByName(name); ok {
		return m, true
	}
	var found []Mark
	for _, m := range p.Marks {
		if sameName(bare(m.Name), bare(name)) {
			found = append(found, m)
		}
	}
	if len(found) != 1 {
		return Mark{}, false
	}
	return found[0], true
}

// LegByID returns the leg with that ID.
func (p *Plan) LegByID(id ID) (Leg, bool) {
	return find(p.Legs, func(l Leg) bool { return l.ID == id })
}

// LegIndex returns the leg's place in the route, or −1.
func (p *Plan) LegIndex(id ID) int {
	return slices.IndexFunc(p.Legs, func(l Leg) bool { return l.ID == id })
}

// SightByID returns the sight with that ID.
func (p *Plan) SightByID(id ID) (Sight, bool) {
	return find(p.Sights, func(s Sight) bool { return s.ID == id })
}

func find[T any](list []T, is func(T) bool) (T, bool) {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i], true
	}
	var none T
	return none, false
}

// Resolve returns the position of an end: its mark's where it stands on one,
// else its own.
func (p *Plan) Resolve(e End) Position {
	if e.Mark != "" {
		if m, ok := p.MarkByID(e.Mark); ok {
			return m.Position
		}
	}
	return e.Position
}

// Positions finds the positions of many ends of one plan; Resolve would search all
// marks for each.
type Positions struct{ marks map[ID]Position }

// Positions prepares Positions for the plan.
func (p *Plan) Positions() Positions {
	at := Positions{make(map[ID]Position, len(p.Marks))}
	for _, m := range p.Marks {
		at.marks[m.ID] = m.Position
	}
	return at
}

// Of returns the position of an end, as Resolve does.
func (at Positions) Of(e End) Position {
	if e.Mark != "" {
		if pos, ok := at.marks[e.Mark]; ok {
			return pos
		}
	}
	return e.Position
}
