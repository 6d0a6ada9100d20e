package teachpanel

import (
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/lessondraw"
	"legwright/canvas/overlay"
)

// draw adds the ray with its wedge, and what fits it or cannot.
func (x *identify) draw(s *overlay.Scene) {
	k, ok := x.n.View.Sketch()
	if !ok || x.stage.concealed {
		return
	}
	var out overlay.Lesson
	if at, on := x.from.onSheet(k); on {
		if a := x.seen.answer; a != nil {
			ray := k.Ray(at, a.Ray, a.Half)
			ray.Label = a.Bearing.North.Figure(x.stage.circle(), a.Bearing.Angle)
			out.Rays = append(out.Rays, ray)
			out.Watermark = lessondraw.Watermark(x.n.Lesson, x.stage.circle())
		}
		out.Features = append(out.Features, overlay.Feature{At: at, Name: "you"})
	}
	out.Features = append(out.Features, spotsOf(x.n, k, x.seen.list, &x.picks.features, x.picks.chosen)...)
	s.Lesson = out
}

// spotsOf are the marks that were judged and the one that is chosen, and the features that
// are no marks.
func spotsOf(n *Needs, k overlay.Sketch, list []teach.Candidate, f *features, chosen string) []overlay.Feature {
	var out []overlay.Feature
	all := f.asNow(n)
	for _, c := range list {
		spot := overlay.Feature{Fit: fitOf(c.Verdict)}
		if c.ID != "" && spot.Fit == overlay.NotJudged && keyOf(c) != chosen {
			continue
		}
		pos, name := positionOf(n.Session.Plan(), all, c)
		var on bool
		if spot.At, on = k.Position(pos); on {
			spot.Name = name
			out = append(out, spot)
		}
	}
	return out
}

// positionOf is where a candidate lies, and its name where it is no mark.
func positionOf(p *plan.Plan, features []teach.Feature, c teach.Candidate) (pos plan.Position, name string) {
	if m, ok := p.MarkByID(c.ID); ok {
		return m.Position, ""
	}
	for _, f := range features {
		if f.Name == c.Name {
			return f.Position, f.Name
		}
	}
	return plan.Position{}, ""
}

// fitOf is how a verdict is drawn.
func fitOf(v teach.Verdict) overlay.Fit {
	switch v {
	case teach.Likely:
		return overlay.FitsWell
	case teach.Possible:
		return overlay.FitsBarely
	case teach.Cannot:
		return overlay.CannotFit
	}
	return overlay.NotJudged
}
