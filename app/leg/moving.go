package leg

import (
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/plan"
)

// Moving is For while control points follow the hand, when judging would hold it up.
// Sheets that are not as they were judged last, and those that rest on others, wait to be
// judged: everything read off them carries a stop. Sheets that are held keep the reader's
// own calibration. The error is that of For.
func (r *Reader) Moving(p *plan.Plan, held ...plan.ID) (*Reader, error) {
	return r.next(p, judging{moving: true}, held...)
}

// Waits reports whether a sheet waits to be judged.
func (r *Reader) Waits() bool { return r.waits }

// Waiting is how many control points the sheets have that wait to be judged.
func (r *Reader) Waiting() int {
	n := 0
	for i, v := range r.verdicts() {
		if v.Waits {
			n += len(r.p.Sheets[i].Points)
		}
	}
	return n
}

// Judged is the reader itself if no sheet waits, else a reader of the same plan with
// every sheet judged.
func (r *Reader) Judged() *Reader {
	if !r.waits {
		return r
	}
	out, _ := r.For(r.p) // its readings give the error
	return out
}

// waiting is the verdicts while control points move: those of an older reader, and for
// other sheets that they wait.
func (r *Reader) waiting(old *Reader) []check.Verdict {
	var out []check.Verdict
	for i, s := range r.p.Sheets {
		rests := slices.ContainsFunc(s.Evidence, func(e calib.Evidence) bool { return e.Source == calib.FromSheet })
		switch known := old.known(s, r.p.Code()); {
		case r.sheets[i].c == nil:
			out = append(out, ofNone())
		case known == nil || rests || restsOnHeights(s) && old.model != r.model:
			out = append(out, check.NotJudged())
		default:
			out = append(out, *known)
		}
	}
	return out
}
