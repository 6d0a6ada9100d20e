package relief

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// Needs is what the room is made from.
type Needs struct {
	Session *session.Session
	Foot    *foot.Line
	Ask     *ask.Dialogs
	View    *sheetview.View
	Later   func(func())
	Arrange func() // the legend grew or shrank
}

// Relief is the room. Its methods belong to the main thread.
type Relief struct {
	n               *Needs
	steep, contours bool // are asked for
	have            *overlay.Relief
	of              subject // what have shows
	reading         *jobs.Slot
	wanted          subject // what is being read
	redraw          func()
	legend          *legend
	propose         *proposer
}

// subject is whose ground is shown.
type subject struct {
	model *terrain.Model
	fit   *calib.Calibration
	sheet plan.ID
}

// New makes the room.
func New(n Needs) *Relief {
	r := &Relief{n: &n, reading: jobs.NewSlot(n.Later)}
	r.propose = newProposer(&n, r.offer)
	r.legend = newLegend(r.KeepProposed, r.cancel, n.Foot.Hint)
	r.redraw = n.View.AddLayer(r.draw)
	r.reading.OnChange(r.showLegend)
	n.Session.OnChange(func(c session.Change) {
		if c.Moving || !c.What.Has(session.TerrainChanged|session.AnySheet|session.PlanReplaced) {
			return
		}
		r.recheck()
		if r.On() {
			r.follow()
		}
	})
	return r
}

// Legend says over the sheet what is drawn.
func (r *Relief) Legend() fyne.CanvasObject { return r.legend.body }

// On reports whether anything of the ground is asked for.
func (r *Relief) On() bool { return r.steep || r.contours }

// Steep reports whether steepness is asked for.
func (r *Relief) Steep() bool { return r.steep }

// Contours reports whether contours are asked for.
func (r *Relief) Contours() bool { return r.contours }

// ShowSteep hatches steep ground, or ends that.
func (r *Relief) ShowSteep(on bool) {
	if !on || r.can() {
		r.steep = on
		r.follow()
	}
}

// ShowContours draws contours, or ends that. Their interval is asked for first if nobody
// has said it.
func (r *Relief) ShowContours(on bool) {
	if on && !r.can() {
		return
	}
	if sheet, _ := r.n.Session.Sheet(); on && sheet.Contour == 0 {
		r.AskInterval(func() { r.contours = true; r.follow() })
		return
	}
	r.contours = on
	r.follow()
}

// can reports whether there is ground to show, and says what is missing.
func (r *Relief) can() bool {
	_, err := r.n.Session.Calibration()
	if len(r.n.Session.Plan().Terrain) == 0 {
		err = errors.New("the plan has no terrain. To open some: File → Open terrain…")
	}
	return r.n.Foot.Try(err, "")
}

// subject returns whose ground is to be shown; false while that cannot be read.
func (r *Relief) subject() (subject, bool) {
	sheet, _ := r.n.Session.Sheet()
	fit, err := r.n.Session.Calibration()
	model, ok := r.n.Session.Ground()
	return subject{model, fit, sheet.ID}, err == nil && ok && model != nil
}

// uncalibrated reports whether there is no telling where the sheet lies.
func (r *Relief) uncalibrated() bool { _, err := r.n.Session.Calibration(); return err != nil }

// follow reads the ground that is asked for unless it is there, and draws what there is.
func (r *Relief) follow() {
	now, can := r.subject()
	_, busy := r.reading.Now()
	switch {
	case !r.On() || !can:
		r.reading.Cancel()
	case r.have != nil && r.of == now:
	case busy && r.wanted == now:
	default:
		r.read(now)
	}
	r.showLegend()
	r.redraw()
}

// read reads the ground of the sheet beside the window.
func (r *Relief) read(now subject) {
	r.wanted = now
	sheet, _ := r.n.Session.Sheet()
	ground, fit := r.n.Session.Reader().Ground(), now.fit
	stepPx := now.model.ClosestM() / fit.MetresPerPixel()
	var have *overlay.Relief
	r.reading.Start("Reading the terrain under this sheet", func(ctx context.Context, tell func(jobs.Progress)) error {
		have, _ = overlay.ReliefOf(ctx, sheet.Width, sheet.Height, stepPx, func(p view.PicPt) overlay.GroundSpot {
			at := fit.ToGrid(calib.PicturePt{Col: p.X, Row: p.Y})
			h, _ := ground.Height(at)
			deg, whole := ground.SteepestRound(at)
			return overlay.GroundSpot{HeightM: h, SlopeDeg: deg, Void: !whole}
		}, func(done, all int) { tell(jobs.Progress{Done: int64(done), Total: int64(all)}) })
		return ctx.Err()
	}, func(err error) {
		if err == nil && have != nil {
			r.have, r.of = have, now
		}
		r.showLegend()
		r.redraw()
	})
}

// cancel discards what is proposed, or ends the reading, and with it what was asked for.
func (r *Relief) cancel() {
	if r.Escape() {
		return
	}
	r.steep, r.contours = false, false
	r.follow()
	r.n.Foot.Say("Cancelled: the terrain under this sheet was not read.")
}

// draw adds the ground to the sheet's drawing while it is that of the sheet.
func (r *Relief) draw(s *overlay.Scene) {
	now, can := r.subject()
	if p := r.propose.open; p != nil && can && p.of == now {
		s.Proposed = p.drawn
	}
	if !r.On() || !can || r.have == nil || r.of != now {
		return
	}
	s.Relief = r.have.Showing(r.overDeg(), r.intervalM())
}

// overDeg is the slope in degrees from which the hatching shows ground as over-steep, 0 for no
// hatching.
func (r *Relief) overDeg() float64 {
	if !r.steep {
		return 0
	}
	return limitOf(r.of.model, r.n.Session.Plan()).Deg()
}

// intervalM is the interval of the contours that are drawn, 0 for none.
func (r *Relief) intervalM() float64 {
	sheet, _ := r.n.Session.Sheet()
	if !r.contours {
		return 0
	}
	return sheet.Contour
}
