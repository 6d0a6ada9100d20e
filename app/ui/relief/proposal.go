package relief

import (
	"fmt"
	"strings"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
	"legwright/app/ui/sheetview"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// proposal is the steep ground found. It is drawn over the sheet until the person keeps it
// as hazards or cancels.
type proposal struct {
	found terrain.SteepAreas
	limit units.Angle // from which it was looked for
	of    subject     // whose ground it is
	drawn []overlay.Shape
}

// newProposal draws the ground found as it would come into the plan.
func newProposal(found terrain.SteepAreas, limit units.Angle, of subject) *proposal {
	p := &proposal{found: found, limit: limit, of: of}
	for _, o := range found.Outlines {
		var points []view.PicPt
		for _, g := range session.SteepOutline(o, found.CellM) {
			points = append(points, sheetview.ViewPt(of.fit.ToPicture(g)))
		}
		p.drawn = append(p.drawn, overlay.NewProposed(points))
	}
	return p
}

// areas counts the areas proposed.
func (p *proposal) areas() string { return areas(len(p.found.Outlines)) }

func areas(n int) string {
	if n != 1 {
		return fmt.Sprintf("%d areas", n)
	}
	return "1 area"
}

// areaText is an area to two digits, in hectares or, below a tenth of one, in square metres.
func areaText(m2 float64) string {
	if m2 < 1000 {
		return fmt.Sprintf("%.0f m²", m2)
	}
	return fmt.Sprintf("%.2g ha", m2/10_000)
}

// words say what is proposed, and what such terrain cannot show.
func (p *proposal) words(s *session.Session) string {
	return fmt.Sprintf("Proposed: %s of %.0f° or steeper, in orange. Compare each one with the map before you keep them as hazards. %s",
		p.areas(), p.limit.Deg(), limitWords(s, p.found))
}

// limitWords say what the terrain does not show.
func limitWords(s *session.Session, found terrain.SteepAreas) string {
	var words []string
	if n := found.Small; n > 0 {
		words = append(words, fmt.Sprintf("Not proposed: %s smaller than about %s. Look for such ground on the map: the terrain may not show all of it.",
			areas(n), areaText(found.LeastM2)))
	}
	for _, c := range s.Reader().GroundCautions() {
		words = append(words, firstSentence(c.Text()))
	}
	if found.Voids > 0 {
		words = append(words, "The terrain has no heights in parts of the view: nothing is proposed there.")
	}
	return strings.Join(words, " ")
}

// Proposes reports whether steep ground waits to be kept.
func (r *Relief) Proposes() bool { return r.propose.open != nil }

// KeepProposed adds the steep ground that waits as hazards, as one act.
func (r *Relief) KeepProposed() {
	p := r.propose.open
	if p == nil {
		return
	}
	r.withdraw()
	added, err := r.n.Session.AddSteep(p.found.Outlines, p.found.CellM)
	words := fmt.Sprintf("%d of %s added. Undo reverses this.", added, p.areas())
	if added == 0 {
		words = "The plan already has all these areas: nothing was added."
	}
	r.n.Foot.Try(err, words)
}

// Escape discards the steep ground that waits, and reports whether there was any.
func (r *Relief) Escape() bool {
	if !r.Proposes() {
		return false
	}
	r.withdraw()
	r.n.Foot.Say("Cancelled: no steep ground was added.")
	return true
}

// offer shows the steep ground found, and waits.
func (r *Relief) offer(p *proposal) {
	r.propose.open = p
	r.showLegend()
	r.redraw()
	r.n.Foot.Say("Compare each orange area with the map. Then keep them as hazards, or discard them.")
}

// withdraw ends the waiting.
func (r *Relief) withdraw() {
	r.propose.open = nil
	r.showLegend()
	r.redraw()
}

// recheck discards a proposal that speaks of another terrain, calibration or slope than there is now.
func (r *Relief) recheck() {
	p := r.propose.open
	if p == nil {
		return
	}
	if now, can := r.subject(); can && now == p.of && p.limit == limitOf(now.model, r.n.Session.Plan()) {
		return
	}
	r.withdraw()
	r.n.Foot.Say("The proposed steep ground was discarded: the terrain, the calibration or the over-steep slope changed.")
}

// limitOf is the slope from which a plan calls ground of a model over-steep.
func limitOf(m *terrain.Model, p *plan.Plan) units.Angle {
	return terrain.OverSteep(m.SpacingM(), p.OverSteep())
}
