package session

import (
	"slices"

	"legwright/app/calib"
	"legwright/app/plan"
)

// differences says in which parts two plans differ. A list of things that they do not
// share counts as different.
func differences(a, b *plan.Plan) Aspect {
	var what Aspect
	note := func(differs bool, aspect Aspect) {
		if differs {
			what |= aspect
		}
	}
	note(a.Title != b.Title, TitleChanged)
	note(a.Date != b.Date || a.Snow != b.Snow, DateChanged)
	note(a.Party != b.Party, PartyChanged)
	note(!slices.Equal(a.Terrain, b.Terrain), groundChanged(b))
	note(a.OverSteepDeg != b.OverSteepDeg, TerrainChanged)
	note(a.Timing != b.Timing, TimingChanged)
	for _, kind := range a.KindsApart(b) {
		if kind == plan.OfLeg && slices.EqualFunc(a.Legs, b.Legs, sameButNotes) {
			what |= NotesChanged
			continue
		}
		what |= AspectOf(kind)
	}
	return what | sheetDifferences(a.Sheets, b.Sheets)
}

// sameButNotes reports whether two legs have all in common but what is noted at them, on which
// no figure and no caution rests.
func sameButNotes(a, b plan.Leg) bool {
	a.TickOff, a.Catching, a.Note = b.TickOff, b.Catching, b.Note
	return a == b
}

// sheetDifferences is differences of two lists of sheets.
func sheetDifferences(a, b []plan.Sheet) Aspect {
	if len(a) != len(b) {
		return SheetsChanged
	}
	if len(a) == 0 || &a[0] == &b[0] {
		return 0
	}
	var what Aspect
	for i, x := range a {
		y := b[i]
		if x.ID != y.ID || x.Picture != y.Picture || x.SHA256 != y.SHA256 || x.Page != y.Page {
			what |= SheetsChanged
		}
		if x.ID != y.ID {
			continue
		}
		if !x.SameCalibration(y) {
			what |= CalibrationChanged
		}
		if x.Contour != y.Contour {
			what |= TerrainChanged | EvidenceChanged // heights are compared by it
		}
		if x.FileCautions != y.FileCautions || x.SlipChosen != y.SlipChosen || !slices.Equal(x.Evidence, y.Evidence) {
			what |= EvidenceChanged
		}
	}
	return what
}

// groundChanged is what other heights of the ground change: what heights of contours
// check, too.
func groundChanged(p *plan.Plan) Aspect {
	for _, s := range p.Sheets {
		if slices.ContainsFunc(s.Evidence, func(e calib.Evidence) bool { return e.Source == calib.FromTerrain }) {
			return TerrainChanged | EvidenceChanged
		}
	}
	return TerrainChanged
}
