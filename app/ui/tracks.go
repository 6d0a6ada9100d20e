package ui

import (
	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/overlay"
)

// trackState is the imported tracks as brought onto the sheet. Long ones take
// a while, so they are made away from the window.
type trackState struct {
	of     []plan.Track
	matrix [6]float64
	code   geodesy.Code
	drawn  []overlay.Track
}

// same reports whether the tracks were made for this plan and calibration.
func (s trackState) same(of []plan.Track, matrix [6]float64, code geodesy.Code) bool {
	return len(s.of) == len(of) && (len(of) == 0 || &s.of[0] == &of[0]) && s.matrix == matrix && s.code == code
}

// tracks returns the plan's tracks on the sheet, nil where they are still
// being made: then the short ones are drawn at once.
func (b *Bench) tracks(c *calib.Calibration) []overlay.Track {
	list, sys := b.s.Plan().Tracks, b.s.Reader().System()
	if c == nil || sys == nil || len(list) == 0 {
		return nil
	}
	if b.trackNow.same(list, c.Matrix(), sys.Code()) {
		return b.trackNow.drawn // nil until they have come
	}
	next := trackState{of: list, matrix: c.Matrix(), code: sys.Code()}
	b.trackNow = next
	go func() {
		for _, t := range list {
			next.drawn = append(next.drawn, overlay.TrackOf(t, sys, c))
		}
		b.later(func() {
			if b.trackNow.same(next.of, next.matrix, next.code) {
				b.trackNow = next
				b.refreshAll()
			}
		})
	}()
	return nil
}
