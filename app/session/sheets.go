package session

import (
	"legwright/app/plan"
)

// Sheet returns the sheet that is shown: the one that every intention
// about a sheet is meant for, and that positions are picked on. Which one that
// is does not belong to the plan and is no step of undo. It reports false
// while the plan has no sheet.
func (s *Session) Sheet() (plan.Sheet, bool) {
	for _, id := range []plan.ID{s.shown, s.before} {
		if sheet, ok := s.Plan().SheetByID(id); ok {
			return sheet, true
		}
	}
	return s.Plan().Sheet()
}

// ShowSheet shows another sheet of the plan. The error is a *NotFound.
func (s *Session) ShowSheet(id plan.ID) error {
	if _, ok := s.Plan().SheetByID(id); !ok {
		return &NotFound{"sheet", id}
	}
	if now, _ := s.Sheet(); now.ID == id {
		return nil
	}
	s.take(id)
	s.tell(SheetShown, "")
	return nil
}

// take shows a sheet, and tells nobody.
func (s *Session) take(id plan.ID) {
	if now, _ := s.Sheet(); now.ID != id {
		s.before, s.shown, s.snaps = now.ID, id, nil
	}
}

// AddSheet adds a picture to the plan as another sheet and shows it. It begins
// uncalibrated, on the plan's grid. A picture that is a sheet of the plan already is
// shown instead. The error is the *plan.Invalid of too many sheets.
func (s *Session) AddSheet(pic Picture) error {
	s.settle()
	if known, ok := s.Plan().SheetOf(pic.SHA256, pic.Page); ok {
		return s.showFound(known.ID, pic)
	}
	fresh := s.fresh(pic)
	return s.takeNew("add sheet", s.Plan().SetSheet(fresh), fresh.ID)
}

// showFound shows a sheet of the plan whose picture lies at another path now.
func (s *Session) showFound(id plan.ID, pic Picture) error {
	s.take(id)
	sheet, _ := s.Sheet()
	before := s.Plan()
	err := s.relink(sheet, pic)
	if s.Plan() == before {
		s.tell(0, "") // nothing but which sheet is shown
	}
	return err
}

// RemoveSheet takes a sheet out of the plan. What was picked on it keeps its
// coordinates, and readings from there say so. The error is a *NotFound.
func (s *Session) RemoveSheet(id plan.ID) error {
	s.settle()
	p := s.Plan()
	i := 0
	for i < len(p.Sheets) && p.Sheets[i].ID != id {
		i++
	}
	if i == len(p.Sheets) {
		return &NotFound{"sheet", id}
	}
	if now, _ := s.Sheet(); now.ID == id && len(p.Sheets) > 1 { // the next one is shown, or the last
		s.shown, s.before = p.Sheets[min(i+1, len(p.Sheets)-1)].ID, ""
		if s.shown == id {
			s.shown = p.Sheets[i-1].ID
		}
	}
	return s.do("delete sheet", "", p.RemoveSheet(id))
}

// fresh returns a new sheet of the plan's grid.
func (s *Session) fresh(pic Picture) plan.Sheet {
	return plan.Sheet{
		ID: s.Plan().NextSheetID(), Picture: pic.Path, Page: pic.Page, Width: pic.Width, Height: pic.Height, SHA256: pic.SHA256,
		DPI: pic.DPI, Medium: pic.Medium, Focal: pic.Focal, Code: s.Plan().Code(),
	}
}

// takeNew makes p the plan and shows a sheet that is new in it.
func (s *Session) takeNew(name string, p *plan.Plan, id plan.ID) error {
	shown, before := s.shown, s.before
	if now, ok := s.Sheet(); ok {
		s.before = now.ID
	}
	s.shown = id
	err := s.do(name, "", p)
	if err != nil {
		s.shown, s.before = shown, before
	}
	return err
}

// handTo shows a sheet that undo or redo has changed or brought back, so that the
// change is seen. If the sheet shown is among those, it stays.
func (s *Session) handTo(before *plan.Plan) {
	now, _ := s.Sheet()
	first := plan.ID("")
	for _, sheet := range s.Plan().Sheets {
		was, ok := before.SheetByID(sheet.ID)
		if ok && was.Same(sheet) {
			continue
		}
		if sheet.ID == now.ID {
			return
		}
		if first == "" {
			first = sheet.ID
		}
	}
	if first != "" {
		s.take(first)
	}
}

// oneGrid refuses a grid that the plan's other sheets are not on: a bearing is
// told from one grid north.
func (s *Session) oneGrid(sheet plan.Sheet) error {
	for _, other := range s.Plan().Sheets {
		if other.ID == sheet.ID || other.Code == "" || sheet.Code == "" || other.Code == sheet.Code {
			continue
		}
		return refuse("all sheets of a plan must be on the same grid, but %s is on %s and this sheet on %s: begin a new plan for this sheet",
			s.Plan().SheetName(other.ID), other.Code.Name(), sheet.Code.Name())
	}
	return nil
}
