package relief

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/app/ui/sheetview"
	"legwright/canvas/view"
)

// mostProposed is how many areas a person is asked to accept at once: each should be
// compared with the map.
const mostProposed = 200

// proposer finds over-steep ground and proposes it as hazards.
type proposer struct {
	n       *Needs
	finding *jobs.Slot
}

func newProposer(n *Needs) *proposer {
	p := &proposer{n: n, finding: jobs.NewSlot(n.Later)}
	var shown *ask.Progress
	p.finding.OnChange(func() {
		job, on := p.finding.Now()
		switch {
		case !on:
			shown.Close()
			shown = nil
			return
		case shown == nil:
			shown = n.Ask.Progress(job.Title, func() {
				if p.finding.Cancel() {
					n.Foot.Say("Cancelled: no steep ground was added.")
				}
			})
		}
		share, _ := job.Progress.Share()
		shown.Tell("Looking at the slopes…", share)
	})
	return p
}

// ProposeSteep finds the over-steep ground of what is seen of the sheet, and adds it as
// hazards if the person accepts it.
func (r *Relief) ProposeSteep() {
	now, can := r.subject()
	switch {
	case !r.can():
		return
	case !can || !r.n.View.Usable():
		r.n.Foot.Say("The terrain has not been read yet.")
		return
	}
	r.propose.find(now)
}

// find looks for it beside the window.
func (p *proposer) find(now subject) {
	g, limit := p.n.Session.Reader().Ground(), terrain.OverSteep(now.model.SpacingM(), p.n.Session.Plan().OverSteep())
	box := boxOf(now.fit, p.n.View.Area().View().Visible())
	var found terrain.SteepAreas
	p.finding.Start("Finding steep ground", func(ctx context.Context, tell func(jobs.Progress)) (err error) {
		found, err = g.SteepAreas(ctx, box, limit, func(done, all int) { tell(jobs.Progress{Done: int64(done), Total: int64(all)}) })
		return err
	}, func(err error) {
		switch later, _ := p.n.Session.Ground(); {
		case err == nil && later != now.model:
			err = errors.New("the terrain changed meanwhile: propose steep ground again")
		case err == nil && len(found.Outlines) > mostProposed:
			err = fmt.Errorf("the terrain shows %d areas of steep ground, too many to compare with the map: zoom in", len(found.Outlines))
		}
		if p.n.Foot.Try(err, "") {
			p.ask(found, fmt.Sprintf("%.0f°", limit.Deg()))
		}
	})
}

// boxOf is the ground of a part of the picture.
func boxOf(fit *calib.Calibration, seen view.Rect) terrain.Box {
	inf := math.Inf(1)
	b := terrain.Box{SouthWest: geodesy.Grid{E: inf, N: inf}, NorthEast: geodesy.Grid{E: -inf, N: -inf}}
	for _, at := range []view.PicPt{seen.Min, seen.Max, {X: seen.Min.X, Y: seen.Max.Y}, {X: seen.Max.X, Y: seen.Min.Y}} {
		g := fit.ToGrid(sheetview.PicturePt(at))
		b.SouthWest = geodesy.Grid{E: min(b.SouthWest.E, g.E), N: min(b.SouthWest.N, g.N)}
		b.NorthEast = geodesy.Grid{E: max(b.NorthEast.E, g.E), N: max(b.NorthEast.N, g.N)}
	}
	return b
}

// ask says what was found, and what such terrain cannot show.
func (p *proposer) ask(found terrain.SteepAreas, limit string) {
	var words []string
	for _, c := range p.n.Session.Reader().GroundCautions() {
		words = append(words, c.Text())
	}
	if found.Voids > 0 {
		words = append(words, "In parts of what you see the terrain has no heights: nothing is proposed there.")
	}
	limits := strings.Join(words, " ")
	n := len(found.Outlines)
	if n == 0 {
		p.n.Ask.Tell("No steep ground found", fmt.Sprintf("The terrain shows no ground of %s or steeper here. That does not say that there is none. %s", limit, limits))
		return
	}
	areas := fmt.Sprintf("%d areas", n)
	if n == 1 {
		areas = "1 area"
	}
	p.n.Ask.Question("Add steep ground?", fmt.Sprintf("The terrain shows %s of %s or steeper in the part of the sheet that you see. As hazards, no way off may come near them. Compare each with the map. %s", areas, limit, limits), nil,
		ask.Answer{Text: "Cancel", Default: true},
		ask.Answer{Text: "Add " + areas, Do: func() {
			added, err := p.n.Session.AddSteep(found.Outlines, found.CellM)
			p.n.Foot.Try(err, fmt.Sprintf("%d of %s added. Undo removes them.", added, areas))
		}})
}
