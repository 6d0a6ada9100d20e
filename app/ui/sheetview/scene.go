package sheetview

import (
	"legwright/canvas/overlay"
)

// scene draws the plan over the sheet.
type scene struct {
	*sheet
	later       func(func())
	layers      []func(*overlay.Scene)
	tracks      tracks
	grid        bool // is drawn whatever tool is held
	calibrating bool
	asked       bool // a drawing is on its way
	drawn       overlay.Scene
}

// ask makes one drawing once the present act is over.
func (s *scene) ask() {
	if s.asked {
		return
	}
	s.asked = true
	s.later(func() {
		s.asked = false
		s.drawn = s.make()
		s.area.SetScene(s.drawn)
	})
}

// make builds what is drawn.
func (s *scene) make() overlay.Scene {
	if s.state == preview {
		return overlay.Scene{}
	}
	c, err := s.s.Calibration()
	if err != nil {
		c = nil
	}
	shown, _ := s.s.Sheet()
	out := overlay.SceneOf(s.s.Plan(), s.s.Reader(), c, overlay.Selection{ID: s.s.Selection().ID}, overlay.Options{
		Sheet: shown.ID,
		Grid:  s.calibrating || s.grid, Residuals: s.calibrating,
		PickedHere: s.calibrating && !s.s.Verdict().Checked,
		Labels:     true, Legs: s.s.Rows(), Tracks: s.tracksOn(c),
	})
	if out.Faint = s.calibrating; !s.calibrating {
		out.Controls = nil
	}
	for _, add := range s.layers {
		add(&out)
	}
	return out
}
