package relief

import (
	"context"
	"errors"
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/app/ui/sheetview"
	"legwright/app/units"
	"legwright/canvas/view"
)

// mostProposed is how many areas are proposed at once: each should be compared with the map.
const mostProposed = 200

// proposer finds over-steep ground and proposes it as hazards.
type proposer struct {
	n       *Needs
	finding *jobs.Slot
	offer   func(*proposal) // shows the ground found
	open    *proposal       // that waits to be kept; nil for none
}

func newProposer(n *Needs, offer func(*proposal)) *proposer {
	p := &proposer{n: n, finding: jobs.NewSlot(n.Later), offer: offer}
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

// ProposeSteep finds the over-steep ground of what is seen of the sheet, and draws it for the
// person to keep as hazards.
func (r *Relief) ProposeSteep() {
	now, can := r.subject()
	switch {
	case !r.can():
		return
	case r.n.View.Wanted() != "":
		r.n.Foot.Say(r.n.View.Wanted())
		return
	case !can:
		r.n.Foot.Say("The terrain has not been read.")
		return
	}
	r.propose.find(now)
}

// find looks for it beside the window.
func (p *proposer) find(now subject) {
	g, limit := p.n.Session.Reader().Ground(), limitOf(now.model, p.n.Session.Plan())
	box := boxOf(now.fit, p.n.View.Area().View().Visible())
	var found terrain.SteepAreas
	p.finding.Start("Finding steep ground", func(ctx context.Context, tell func(jobs.Progress)) (err error) {
		found, err = g.SteepAreas(ctx, box, limit, func(done, all int) { tell(jobs.Progress{Done: int64(done), Total: int64(all)}) })
		return err
	}, func(err error) {
		fit, _ := p.n.Session.Calibration()
		switch later, _ := p.n.Session.Ground(); {
		case err == nil && (later != now.model || fit != now.fit):
			err = errors.New("the terrain or the calibration has just changed: propose steep ground again")
		case err == nil && len(found.Outlines) > mostProposed:
			err = fmt.Errorf("the terrain shows %d areas of steep ground, too many to compare with the map: zoom in", len(found.Outlines))
		}
		if p.n.Foot.Try(err, "") {
			p.offerNew(found, limit, now)
		}
	})
}

// offerNew offers what the plan does not have yet.
func (p *proposer) offerNew(found terrain.SteepAreas, limit units.Angle, now subject) {
	if len(found.Outlines) == 0 {
		p.tellNone(found, limit)
		return
	}
	if found.Outlines = p.n.Session.SteepNew(found.Outlines, found.CellM); len(found.Outlines) == 0 {
		p.n.Foot.Say("The plan already has all the steep ground that the terrain shows here" + largerThan(found) + ": nothing is proposed. " + limitWords(p.n.Session, found))
		return
	}
	p.offer(newProposal(found, limit, now))
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

// largerThan says of steep ground that small areas were left out, if any were.
func largerThan(found terrain.SteepAreas) string {
	if found.Small == 0 {
		return ""
	}
	return " in areas of about " + areaText(found.LeastM2) + " or more"
}

// tellNone says that the terrain shows no steep ground, and that there may be some all the same.
func (p *proposer) tellNone(found terrain.SteepAreas, limit units.Angle) {
	title, end := "No steep ground found", ". There may still be some."
	if found.Small > 0 {
		title, end = "Only small areas of steep ground found", ", except in areas smaller than about "+areaText(found.LeastM2)+". There may be more."
	}
	p.n.Ask.Tell(title, fmt.Sprintf("The terrain shows no ground as steep as %.0f° here%s %s", limit.Deg(), end, limitWords(p.n.Session, found)))
}
