package routepanel

import (
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// finder finds marks, legs, sights and tracks on the sheets of a plan.
type finder struct{ n *Needs }

// on returns where a position lies by the calibration of a sheet, and whether that is
// on its picture.
func (f *finder) on(sheet plan.Sheet, pos plan.Position) (at view.PicPt, on bool) {
	r := f.n.Session.Reader()
	c, err := r.CalibrationOf(sheet.ID)
	sys := r.System()
	if err != nil || sys == nil {
		return view.PicPt{}, false
	}
	g, _, err := r.Convert(pos, sys)
	if err != nil {
		return view.PicPt{}, false
	}
	at = sheetview.ViewPt(c.ToPicture(g))
	return at, at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height)
}

// shows reports whether a position lies on the picture of a sheet.
func (f *finder) shows(s plan.Sheet, pos plan.Position) bool {
	if pos.Origin == plan.Picked && pos.Sheet == s.ID {
		return true
	}
	_, on := f.on(s, pos)
	return on
}

// best returns the sheet that shows most of a thing: the one that is seen before
// others, and one that it was picked on before one that shows its ground. It is none
// where the thing lies on no sheet.
func (f *finder) best(id plan.ID) (plan.Sheet, bool) {
	seen, _ := f.n.Session.Sheet()
	var best plan.Sheet
	most := 0
	for _, s := range f.n.Session.Plan().Sheets {
		score := 0
		for _, pos := range f.n.Session.PositionsOf(id) {
			if pos.Origin == plan.Picked && pos.Sheet == s.ID {
				score += 4
			} else if _, on := f.on(s, pos); on {
				score += 3
			}
		}
		if score > 0 && s.ID == seen.ID {
			return s, true
		}
		if score > most {
			best, most = s, score
		}
	}
	return best, most > 0
}

// find brings a thing into sight.
func (f *finder) find(id plan.ID) {
	positions := f.n.Session.PositionsOf(id)
	track, isTrack := f.n.Session.Plan().TrackByID(id)
	switch {
	case track.Hidden:
		f.n.Foot.Say("This track is hidden: press Show first.")
		return
	case len(positions) == 0 && !isTrack:
		return
	}
	seen, _ := f.n.Session.Sheet()
	if best, ok := f.best(id); ok && best.ID != seen.ID {
		f.n.Host.ShowSheet(best.ID, id)
		return
	}
	var at []view.PicPt
	for _, pos := range positions {
		if p, on := f.on(seen, pos); on {
			at = append(at, p)
		}
	}
	switch {
	case len(at) == 0:
		f.n.Foot.Say("No sheet of this plan shows the selection.")
	case len(at) > 1 && (isTrack || len(at) == len(positions)):
		f.n.View.Area().ShowRect(view.RectOf(at...))
	default:
		f.n.View.Area().CenterOn(at[0])
	}
}

// tellElsewhere says where to find the selected thing if it lies on another sheet.
func (f *finder) tellElsewhere() {
	sel, p := f.n.Session.Selection(), f.n.Session.Plan()
	if sel.Kind == plan.Nothing || len(p.Sheets) < 2 {
		return
	}
	seen, _ := f.n.Session.Sheet()
	best, ok := f.best(sel.ID)
	switch {
	case !ok:
	case best.ID != seen.ID:
		f.n.Foot.Say("The selection is on " + p.SheetName(best.ID) + ". Press Ctrl+F to show it there.")
	default:
		if next, ok := f.runsOnTo(sel.ID, seen); ok {
			f.n.Foot.Say("The selection continues on the sheet " + p.SheetName(next.ID) + ".")
		}
	}
}

// runsOnTo returns the sheet on which that end of a leg or sight lies which is not on
// the sheet that is seen.
func (f *finder) runsOnTo(id plan.ID, seen plan.Sheet) (plan.Sheet, bool) {
	for _, pos := range f.n.Session.PositionsOf(id) {
		if f.shows(seen, pos) {
			continue
		}
		for _, s := range f.n.Session.Plan().Sheets {
			if f.shows(s, pos) {
				return s, true
			}
		}
	}
	return plan.Sheet{}, false
}
