package teachpanel

import (
	"legwright/app/teach"
	"legwright/app/ui/lessondraw"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// draw adds both rays with their wedges, where they cross, and what fits both.
func (x *two) draw(s *overlay.Scene) {
	k, ok := x.n.View.Sketch()
	if !ok || x.stage.concealed {
		return
	}
	var out overlay.Lesson
	for i, p := range x.people {
		at, on := p.from.onSheet(k)
		if !on {
			continue
		}
		out.Features = append(out.Features, overlay.Feature{At: at, Name: [...]string{"first", "second"}[i]})
		if a := p.answer; a != nil {
			ray := k.Ray(at, a.Ray, a.Half)
			ray.Second, ray.Label = i == 1, a.Bearing.North.Figure(x.stage.circle(), a.Bearing.Angle)
			out.Rays = append(out.Rays, ray)
			out.Watermark = lessondraw.Watermark(x.n.Lesson, x.stage.circle())
		}
	}
	if x.meeting != nil && x.meeting.Crossing != nil {
		out.Crossings = crossings(k, *x.meeting.Crossing)
	}
	out.Features = append(out.Features, spotsOf(x.n, k, x.fits(), &x.picks.features, x.picks.chosen)...)
	s.Lesson = out
}

func crossings(k overlay.Sketch, c teach.Crossing) []overlay.Crossing {
	at, ok := k.Position(c.At)
	if !ok {
		return nil
	}
	return []overlay.Crossing{k.Crossing(at, c.LongM, c.ShortM, c.Along, "± "+units.ErrorM(c.Radius95M))}
}
