package opening

import (
	"slices"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// job is one opening, from the wish to the complete picture or its end.
type job struct {
	wanted
	use        Use
	choosePage bool       // nobody has chosen a page: if the file has several, ask
	agreed     *plan.Plan // the plan that the person agreed to lose to a new one
	reading    *reading
	picture    *Picture   // a preview at first; nil until something came
	outcome    *outcome   // of a reading that ended while a question waits
	before     *plan.Plan // as it was before the picture became its sheet; nil: unchanged
	made       *plan.Plan // as it was after that, to see later changes
	aside      *aside     // the plan that a new one took the place of, or nil
}

// aside is an open plan, and what the machine knows of it.
type aside struct {
	plan   session.Aside
	reach  *reach
	inside *planfile.Reach
	seen   map[sighting]bool
}

// setAside returns what is open, before a new plan takes its place.
func setAside(m *machine) *aside {
	return &aside{m.s.Aside(), m.reach, m.from.reach.Load(), m.past.seen}
}

// putBack opens again what was put aside, as it was.
func (a *aside) putBack(m *machine) {
	m.reach = a.reach
	m.from.reach.Store(a.inside)
	m.s.PutBack(a.plan)
	m.past.seen = a.seen // the session's change has cleared it
}

// change makes the job's picture what the job says.
func (j *job) change(m *machine) (err error) {
	if j.use == Own {
		return nil
	}
	if j.use == NewPlan {
		j.aside = setAside(m)
		m.setReach(planfile.Reach{})
		m.s.NewPlan()
	}
	j.before = m.s.Plan()
	p := j.picture
	h := p.Header
	pic := session.Picture{
		Path: p.Path, Page: p.Page, Width: h.Width, Height: h.Height, SHA256: p.SHA256, DPI: h.DPI, Medium: h.Medium, Focal: h.Focal,
	}
	switch j.use {
	case Found:
		err = m.s.Relink(pic)
	case Another:
		err = m.s.AddSheet(pic)
	case Redrawn:
		err = m.s.Redraw(pic)
	default:
		err = m.s.OpenSheet(pic)
	}
	j.made = m.s.Plan()
	return err
}

// back undoes what the job did to the plan.
func (j *job) back(m *machine) {
	if j.aside != nil {
		j.aside.putBack(m)
		return
	}
	for m.s.Plan() != j.before && m.s.Undo() {
	}
}

// onDemo reports whether the plan is the demo: its legs lie on invented ground, and do
// not come along onto a person's own map.
func onDemo(s *session.Session) bool {
	sheet, ok := s.Sheet()
	return ok && sheet.Embedded() && len(s.Plan().Sheets) == 1
}

// untouched reports whether nothing would be lost with a sheet: it is not calibrated,
// and nothing was picked on it.
func untouched(p *plan.Plan, sheet plan.Sheet) bool {
	return len(sheet.Points) == 0 && sheet.World == nil && !p.SheetsUsed()[sheet.ID]
}

// onlySheetOf reports whether a path is that of a sheet of the plan, and holds no page
// that could be another.
func onlySheetOf(p *plan.Plan, path string) bool {
	return slices.ContainsFunc(p.Sheets, func(s plan.Sheet) bool { return s.Picture == path && s.Page == (plan.Page{}) })
}

// replaced returns the calibrated sheet whose file holds another picture now.
func replaced(p *plan.Plan, by *Picture) (plan.Sheet, bool) {
	for _, s := range p.Sheets {
		if s.Picture == by.Path && s.Page == by.Page && s.SHA256 != by.SHA256 && (len(s.Points) > 0 || s.World != nil) {
			return s, true
		}
	}
	return plan.Sheet{}, false
}
