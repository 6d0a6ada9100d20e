package session

import (
	"legwright/app/calib"
	"legwright/app/plan"
)

// Sheet returns the sheet in hand: the one that is shown, that every intention
// about a sheet is meant for, and that positions are picked on. Which one that
// is does not belong to the plan and is no step of undo. It reports false
// while the plan has no sheet.
func (s *Session) Sheet() (plan.Sheet, bool) {
	for _, id := range []plan.ID{s.hand, s.before} {
		if sheet, ok := s.Plan().SheetByID(id); ok {
			return sheet, true
		}
	}
	return s.Plan().Sheet()
}

// ShowSheet takes another sheet of the plan in hand. The error is a *NotFound.
func (s *Session) ShowSheet(id plan.ID) error {
	if _, ok := s.Plan().SheetByID(id); !ok {
		return &NotFound{"sheet", id}
	}
	if now, _ := s.Sheet(); now.ID == id {
		return nil
	}
	s.take(id)
	s.tell(Change{What: SheetChanged})
	return nil
}

// take takes a sheet in hand without a word.
func (s *Session) take(id plan.ID) {
	if now, _ := s.Sheet(); now.ID != id {
		s.before, s.hand, s.snaps = now.ID, id, nil
	}
}

// AddSheet adds a picture to the plan as another sheet, in hand from then on:
// see OpenPage for what is said of it. It begins uncalibrated, on the plan's
// grid. A picture that is a sheet of the plan already is taken in hand
// instead. The error is the *plan.Invalid of too many sheets.
func (s *Session) AddSheet(picture string, page plan.Page, w, h int, sha string, dpi float64) error {
	if known, ok := s.Plan().SheetOf(sha, page); ok {
		return s.showAt(known.ID, picture, w, h)
	}
	fresh := s.fresh(picture, page, w, h, sha, dpi)
	return s.takeNew("add sheet", s.Plan().SetSheet(fresh), fresh.ID)
}

// showAt takes a sheet of the plan in hand whose picture was found at a path.
func (s *Session) showAt(id plan.ID, picture string, w, h int) error {
	if err := s.ShowSheet(id); err != nil {
		return err
	}
	sheet, _ := s.Sheet()
	return s.Relink(picture, w, h, sheet.SHA256)
}

// RemoveSheet takes a sheet out of the plan. What was picked on it keeps its
// coordinates, and readings from there say so. The error is a *NotFound.
func (s *Session) RemoveSheet(id plan.ID) error {
	p := s.Plan()
	i := 0
	for i < len(p.Sheets) && p.Sheets[i].ID != id {
		i++
	}
	if i == len(p.Sheets) {
		return &NotFound{"sheet", id}
	}
	if now, _ := s.Sheet(); now.ID == id && len(p.Sheets) > 1 { // the next one is at hand, or the last
		s.hand, s.before = p.Sheets[min(i+1, len(p.Sheets)-1)].ID, ""
		if s.hand == id {
			s.hand = p.Sheets[i-1].ID
		}
	}
	return s.do("remove sheet", "", p.RemoveSheet(id))
}

// OpensAs says how the picture that is opened or added next came about, and the
// focal length of its camera in diagonals, 0 where unknown. A picture of which
// nothing is said is a scan.
func (s *Session) OpensAs(m calib.Medium, focal float64) { s.medium, s.focal = m, focal }

// fresh returns a new sheet of the plan's grid.
func (s *Session) fresh(picture string, page plan.Page, w, h int, sha string, dpi float64) plan.Sheet {
	medium, focal := s.medium, s.focal
	s.medium, s.focal = calib.Scan, 0
	return plan.Sheet{
		ID: s.Plan().NextSheetID(), Picture: picture, Medium: medium, Focal: focal, Page: page, Width: w, Height: h, SHA256: sha, DPI: dpi, Code: s.Plan().Code(),
	}
}

// takeNew makes p the plan and takes a sheet in hand that is new in it.
func (s *Session) takeNew(name string, p *plan.Plan, id plan.ID) error {
	hand, before := s.hand, s.before
	if now, ok := s.Sheet(); ok {
		s.before = now.ID
	}
	s.hand = id
	err := s.do(name, "", p)
	if err != nil {
		s.hand, s.before = hand, before
	}
	return err
}

// handTo takes that sheet in hand which a step back or forth has changed or
// brought, so that it is seen. Where the one in hand is among them it stays.
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
		return refuse("the sheets of one plan share one grid, and %s is on %s, not on %s: begin a new plan for this sheet",
			s.Plan().SheetName(other.ID), other.Code.Name(), sheet.Code.Name())
	}
	return nil
}
