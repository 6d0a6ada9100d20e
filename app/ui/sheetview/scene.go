package sheetview

import (
	"legwright/canvas/overlay"
)

// scene draws the plan over the sheet.
type scene struct {
	*sheet
	later       func(func())
	layers      *layers
	tracks      *tracks    // nil until drawn
	lines       *gridLines // likewise
	grid        bool       // is drawn whatever tool is held
	calibrating bool
	due         due // what is drawn once the present act is over
}

// due is what is to be drawn.
type due int

const (
	nothingDue due = iota
	layersDue      // over the plan as it was drawn last
	planDue        // and the layers over it
)

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
func (s *scene) ask() { s.draw(planDue) }

// askLayers makes one drawing with the plan as it was drawn last, unless it is to be
// drawn anew.
func (s *scene) askLayers() { s.draw(layersDue) }

// draw makes one drawing once the present act is over, however often it is asked for.
func (s *scene) draw(what due) {
	was := s.due
	if s.due = max(was, what); was != nothingDue {
		return
	}
	s.later(func() {
		if s.due == planDue {
			s.layers.plan = s.make()
		}
		s.due = nothingDue
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
	grid := s.gridOn(shown, c)
	out := overlay.SceneOf(s.s.Plan(), s.s.Reader(), c, overlay.Selection{ID: s.s.Selection().ID}, overlay.Options{
		Sheet: shown.ID,
		Grid:  s.gridWanted(), Lines: grid.drawn, Placed: grid.placed, Residuals: s.calibrating,
		PickedHere: s.calibrating && !s.s.Verdict().Checked,
		Labels:     true, Legs: s.s.Rows(), Escapes: s.s.Escapes().Escapes, Tracks: s.tracksOn(c),
	})
	if out.Faint = s.calibrating; !s.calibrating {
		out.Controls = nil
	}
	if s.concealed {
		conceal(&out)
	}
	return out
}
