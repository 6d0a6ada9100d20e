package teachpanel

import (
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/lessondraw"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// rayDrawing is what a job of bearings draws over the sheet: who stands where, what ray
// each has said, and what was judged by it.
type rayDrawing struct {
	stage  *stage
	sketch overlay.Sketch
	out    overlay.Lesson
}

// rays begins a drawing; false where nothing may be drawn, or nothing can be.
func (st *stage) rays() (*rayDrawing, bool) {
	k, ok := st.n.View.Sketch()
	return &rayDrawing{stage: st, sketch: k}, ok && !st.concealed
}

// stand adds where somebody stands, by his name, and his ray with its wedge where he has
// said one. second is that of two people.
func (d *rayDrawing) stand(from *standpoint, name string, a *teach.Answer, second bool) {
	at, on := from.onSheet(d.sketch)
	if !on {
		return
	}
	d.out.Features = append(d.out.Features, overlay.Feature{At: at, Name: name})
	if a == nil {
		return
	}
	c := d.stage.circle()
	ray := d.sketch.Ray(at, a.Ray, a.Half)
	ray.Second, ray.Label = second, a.Bearing.North.Figure(c, a.Bearing.Angle)
	d.out.Rays = append(d.out.Rays, ray)
	d.out.Watermark = lessondraw.Watermark(d.stage.n.Lesson, c)
}

// cross adds where two rays cross.
func (d *rayDrawing) cross(c *teach.Crossing) {
	if c == nil {
		return
	}
	if at, ok := d.sketch.Position(c.At); ok {
		d.out.Crossings = append(d.out.Crossings, d.sketch.Crossing(at, c.LongM, c.ShortM, c.Along, "± "+units.HalfM(c.Radius95M)))
	}
}

// judged adds the marks that were judged and the one that is chosen, and the features that
// are no marks.
func (d *rayDrawing) judged(list []teach.Candidate, p *picks) {
	all := p.features.asNow(d.stage.n)
	for _, c := range list {
		spot := overlay.Feature{Fit: fitOf(c.Verdict)}
		if c.ID != "" && spot.Fit == overlay.NotJudged && keyOf(c) != p.chosen {
			continue
		}
		pos, name := positionOf(d.stage.n.Session.Plan(), all, c)
		var on bool
		if spot.At, on = d.sketch.Position(pos); on {
			spot.Name = name
			d.out.Features = append(d.out.Features, spot)
		}
	}
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
