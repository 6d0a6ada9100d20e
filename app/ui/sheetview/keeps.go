package sheetview

import (
	"slices"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// keeps draws how far to keep from the hazards near the line that is dragged, as near a leg that
// is selected.
type keeps struct {
	*sheet
	redraw func()
	near   []plan.ID

	of    *leg.Reader // what follows is on the sheet shown of its plan
	on    plan.ID
	drawn map[plan.ID][][]view.PicPt
}

// keepsAtOnce is how many outlines are made in one event: one takes up to half a millisecond.
const keepsAtOnce = 4

// follow shows the outlines of the hazards near the line as it is now, none without a line. The
// sheet is drawn again only where they are others than before.
func (k *keeps) follow(near []leg.Near) {
	k.of, k.on = k.current()
	var now []plan.ID
	made := 0
	for _, n := range near {
		if _, ok := k.drawn[n.Hazard]; !ok {
			if made++; made > keepsAtOnce {
				continue // the next event goes on
			}
			k.make(n.Hazard)
		}
		now = append(now, n.Hazard)
	}
	slices.Sort(now)
	if !slices.Equal(now, k.near) {
		k.near = now
		k.redraw()
	}
}

// current is the reader and the sheet shown; outlines of others are forgotten.
func (k *keeps) current() (*leg.Reader, plan.ID) {
	shown, _ := k.s.Sheet()
	r := k.s.Reader()
	if r != k.of || shown.ID != k.on || k.drawn == nil {
		k.drawn = map[plan.ID][][]view.PicPt{}
	}
	return r, shown.ID
}

func (k *keeps) make(id plan.ID) {
	sketch, _ := overlay.SketchOn(k.of, k.on)
	k.drawn[id] = sketch.Keep(id)
}

// layer adds them to a drawing.
func (k *keeps) layer(s *overlay.Scene) {
	if len(k.near) == 0 {
		return
	}
	s.Hazards = slices.Clone(s.Hazards)
	for i := range s.Hazards {
		if h := &s.Hazards[i]; slices.Contains(k.near, h.ID) {
			h.Keep = k.drawn[h.ID]
		}
	}
}
