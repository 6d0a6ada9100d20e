package session

import (
	"slices"

	"legwright/app/plan"
)

// differences says in which parts two plans differ. Lists that the plans share are
// not looked into.
func differences(a, b *plan.Plan) Aspect {
	var what Aspect
	note := func(differs bool, aspect Aspect) {
		if differs {
			what |= aspect
		}
	}
	note(a.Title != b.Title, TitleChanged)
	note(a.Date != b.Date, DateChanged)
	note(a.Party != b.Party, PartyChanged)
	note(listsDiffer(a.Marks, b.Marks, equal), MarksChanged)
	note(listsDiffer(a.Legs, b.Legs, equal), LegsChanged)
	note(listsDiffer(a.Sights, b.Sights, equal), SightsChanged)
	note(listsDiffer(a.Tracks, b.Tracks, sameTrack), TracksChanged)
	if listsDiffer(a.Sheets, b.Sheets, plan.Sheet.Same) {
		what |= sheetDifferences(a.Sheets, b.Sheets)
	}
	return what
}

func equal[T comparable](a, b T) bool { return a == b }

func sameTrack(a, b plan.Track) bool { return a.Name == b.Name && slices.Equal(a.Points, b.Points) }

// listsDiffer reports whether two lists differ.
func listsDiffer[T any](a, b []T, same func(T, T) bool) bool {
	if len(a) != len(b) {
		return true
	}
	return len(a) > 0 && &a[0] != &b[0] && !slices.EqualFunc(a, b, same)
}

// sheetDifferences is differences of two lists of sheets.
func sheetDifferences(a, b []plan.Sheet) Aspect {
	if len(a) != len(b) {
		return SheetsChanged
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
		if x.FileCautions != y.FileCautions || x.SlipChosen != y.SlipChosen || !slices.Equal(x.Evidence, y.Evidence) {
			what |= EvidenceChanged
		}
	}
	return what
}
