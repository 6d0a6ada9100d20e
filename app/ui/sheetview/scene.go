package sheetview

import (
	"legwright/canvas/overlay"
)

// scene draws the plan over the sheet.
type scene struct {
	*sheet
	later       func(func())
	layers      *layers
	tracks      tracks
	grid        bool // is drawn whatever tool is held
	calibrating bool
	asked       bool // a drawing is on its way
	whole       bool // of the plan too, not of the layers alone
}

// layers are what is added to the plan in each drawing.
type layers struct {
	add   []func(*overlay.Scene)
	plan  overlay.Scene // as it was drawn last, without them
	drawn overlay.Scene
}

// draw adds them to the plan, or leaves them away.
func (l *layers) draw(all bool) {
	if l.drawn = l.plan.Sealed(); !all {
		return
	}
	for _, add := range l.add {
		add(&l.drawn)
	}
}

// ask makes one drawing once the present act is over.
func (s *scene) ask() {
	s.whole = true
	s.askLayers()
}

// askLayers makes one drawing with the plan as it was drawn last, unless it is to be
// drawn anew.
func (s *scene) askLayers() {
	if s.asked {
		return
	}
	s.asked = true
	s.later(func() {
		if s.whole {
			s.layers.plan = s.make()
		}
		s.asked, s.whole = false, false
		s.layers.draw(s.state != preview)
		if s.concealed {
			concealLesson(&s.layers.drawn)
		}
		s.area.SetScene(s.layers.drawn)
	})
}

// make builds what is drawn of the plan.
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
	if s.concealed {
		conceal(&out)
	}
	return out
}
