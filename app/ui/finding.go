package ui

import (
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// placesOf are the positions of a mark, or of both ends of a leg or sight;
// none for any other ID.
func (b *Bench) placesOf(id plan.ID) []plan.Position {
	p := b.s.Plan()
	if l, ok := p.LegByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if l, ok := p.SightByID(id); ok {
		return []plan.Position{p.Resolve(l.From), p.Resolve(l.To)}
	}
	if m, ok := p.MarkByID(id); ok {
		return []plan.Position{m.Position}
	}
	return nil
}

// placeOn is where a position lies by the calibration of a sheet. It reports
// whether that is on the picture.
func (b *Bench) placeOn(sheet plan.Sheet, pos plan.Position) (at view.PicPt, on bool) {
	c, err := b.s.Reader().CalibrationOf(sheet.ID)
	sys := b.s.Reader().System()
	if err != nil || sys == nil {
		return view.PicPt{}, false
	}
	g, _, err := b.s.Reader().Convert(pos, sys)
	if err != nil {
		return view.PicPt{}, false
	}
	at = sheetview.ViewPt(c.ToPicture(g))
	return at, at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height)
}

// home returns the sheet that shows most of a mark, leg or sight: the one in
// hand before others, those things were picked on before those whose ground
// it is. It is none where the thing lies on no sheet.
func (b *Bench) home(id plan.ID) (plan.Sheet, bool) {
	hand, _ := b.s.Sheet()
	var best plan.Sheet
	most := 0
	for _, s := range b.s.Plan().Sheets {
		score := 0
		for _, pos := range b.placesOf(id) {
			if pos.Origin == plan.Picked && pos.Sheet == s.ID {
				score += 4
			} else if _, on := b.placeOn(s, pos); on {
				score += 3
			}
		}
		if score > 0 && s.ID == hand.ID {
			return s, true // something of it is seen already
		}
		if score > most {
			best, most = s, score
		}
	}
	return best, most > 0
}

// findThing brings a leg, sight or mark into view, on another sheet where it
// lies there alone.
func (b *Bench) findThing(id plan.ID) {
	places := b.placesOf(id)
	if len(places) == 0 {
		return
	}
	hand, _ := b.s.Sheet()
	if home, ok := b.home(id); ok && home.ID != hand.ID {
		b.showSheet(home.ID, id)
		return
	}
	var seen []view.PicPt
	for _, pos := range places {
		if at, on := b.placeOn(hand, pos); on {
			seen = append(seen, at)
		}
	}
	switch {
	case len(seen) == 0:
		b.say("That lies on no sheet of this plan.")
	case len(places) == 2 && len(seen) == 2:
		b.sheet.ShowRect(view.RectOf(seen...))
	default:
		b.sheet.CenterOn(seen[0])
	}
}

// tellHome says where to find what was selected and lies on another sheet.
func (b *Bench) tellHome() {
	sel := b.s.Selection()
	if sel.Kind == session.Nothing || len(b.s.Plan().Sheets) < 2 {
		return
	}
	hand, _ := b.s.Sheet()
	switch home, ok := b.home(sel.ID); {
	case !ok:
	case home.ID != hand.ID:
		b.say("That lies on " + b.s.Plan().SheetName(home.ID) + ": Ctrl+F shows it there.")
	default:
		if next, ok := b.runsOnTo(sel.ID, hand); ok {
			b.say("It runs from one sheet to another, to " + b.s.Plan().SheetName(next.ID) + ".")
		}
	}
}

// runsOnTo returns the sheet on which that end of a leg or sight lies which is
// not on the sheet in hand.
func (b *Bench) runsOnTo(id plan.ID, hand plan.Sheet) (plan.Sheet, bool) {
	for _, pos := range b.placesOf(id) {
		if b.shows(hand, pos) {
			continue
		}
		for _, s := range b.s.Plan().Sheets {
			if b.shows(s, pos) {
				return s, true
			}
		}
	}
	return plan.Sheet{}, false
}

// shows reports whether a position lies on the picture of a sheet.
func (b *Bench) shows(s plan.Sheet, pos plan.Position) bool {
	if pos.Origin == plan.Picked && pos.Sheet == s.ID {
		return true
	}
	_, on := b.placeOn(s, pos)
	return on
}
