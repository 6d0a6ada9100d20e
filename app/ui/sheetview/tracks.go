package sheetview

import (
	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/overlay"
)

// tracks are the imported tracks as they lie on the sheet. Long ones take a while,
// so they are made away from the main thread.
type tracks struct {
	of     []plan.Track
	matrix [6]float64
	code   geodesy.Code
	drawn  []overlay.Track
}

// same reports whether the tracks were made for this plan and calibration.
func (t *tracks) same(of []plan.Track, matrix [6]float64, code geodesy.Code) bool {
	return t != nil && len(t.of) == len(of) && (len(of) == 0 || &t.of[0] == &of[0]) && t.matrix == matrix && t.code == code
}

// tracksOn returns the plan's tracks on the sheet, nil while they are being made:
// then the short ones are drawn at once.
func (s *scene) tracksOn(c *calib.Calibration) []overlay.Track {
	list, sys := s.s.Plan().Tracks, s.s.Reader().System()
	if c == nil || sys == nil || len(list) == 0 {
		return nil
	}
	if s.tracks.same(list, c.Matrix(), sys.Code()) {
		return s.tracks.drawn
	}
	next := &tracks{of: list, matrix: c.Matrix(), code: sys.Code()}
	s.tracks = next
	go func() {
		var drawn []overlay.Track
		for _, t := range list {
			if !t.Hidden {
				drawn = append(drawn, overlay.TrackOf(t, sys, c))
			}
		}
		s.later(func() {
			if next.drawn = drawn; s.tracks == next {
				s.ask()
			}
		})
	}()
	return nil
}
