package card

import (
	"fmt"

	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/paper"
)

// Ground is what of a plan is drawn over a map, on the grid that its sheets have in common,
// without the escapes that are left out. Errors: *Unknown for an escape to leave out, and that
// of a thing which lies off that grid: a map without it would look whole.
func Ground(s Source) (paper.Things, error) {
	judged, err := without(escape.Of(s.Reader), s.Omit)
	if err != nil {
		return paper.Things{}, err
	}
	g := &grounds{r: s.Reader, p: s.Reader.Plan(), sys: s.Reader.Common()}
	if g.sys == nil {
		return paper.Things{}, fmt.Errorf("no grid is known for the plan: choose the grid of its sheet first")
	}
	g.route()
	g.escapes(judged)
	g.shapes()
	return g.out, g.err
}

// grounds gathers things, and keeps the first error.
type grounds struct {
	r   *leg.Reader
	p   *plan.Plan
	sys *geodesy.System
	out paper.Things
	err error
}

// at is where a position lies on the grid of the sheets.
func (g *grounds) at(what string, pos plan.Position) geodesy.Grid {
	at, _, err := g.r.Convert(pos, g.sys)
	if err != nil && g.err == nil {
		g.err = fmt.Errorf("%s cannot be drawn on the map: %w", what, err)
	}
	return at
}

func (g *grounds) all(what string, list []plan.Position) []geodesy.Grid {
	out := make([]geodesy.Grid, len(list))
	for i, pos := range list {
		out[i] = g.at(what, pos)
	}
	return out
}

// route gathers legs, marks, and the letters of ends that no mark names.
func (g *grounds) route() {
	at, named := g.p.Positions(), map[string]bool{}
	for i, row := range g.r.Legs() {
		what := fmt.Sprintf("leg %d", i+1)
		l := paper.CutLeg{Number: i + 1, From: g.at(what, at.Of(row.FromEnd)), To: g.at(what, at.Of(row.ToEnd)), Stopped: row.Err != nil || row.Reading.Stopped()}
		if row.Err == nil {
			l.GroundM = row.Reading.GroundM
		}
		g.out.Legs = append(g.out.Legs, l)
		for _, end := range []struct {
			plan.End
			text string
			at   geodesy.Grid
		}{{row.FromEnd, row.From, l.From}, {row.ToEnd, row.To, l.To}} {
			if end.Mark == "" && !named[end.text] {
				named[end.text] = true
				g.out.Ends = append(g.out.Ends, paper.CutMark{Name: end.text, At: end.at})
			}
		}
	}
	for _, m := range g.p.Marks {
		g.out.Marks = append(g.out.Marks, paper.CutMark{Name: m.Name, At: g.at("the mark "+m.Name, m.Position)})
	}
}

// escapes gathers the ways of the escapes, a draft and one that nobody may walk marked as
// such in their names.
func (g *grounds) escapes(judged escape.Judged) {
	at := g.p.Positions()
	for _, e := range judged.Escapes {
		way := paper.CutWay{Name: e.Name, Stopped: e.Stopped()}
		switch {
		case e.Draft:
			way.Name = "DRAFT " + e.Name
		case e.Stopped():
			way.Name = "! " + e.Name
		}
		own, _ := g.p.EscapeByID(e.ID)
		for i, end := range own.Ends() {
			if i > 0 && i <= len(e.Legs) && e.Legs[i-1].Along != "" && len(e.Legs[i-1].Way) > 2 {
				along := e.Legs[i-1].Way
				way.Points = append(way.Points, along[1:len(along)-1]...)
			}
			way.Points = append(way.Points, g.at("escape "+e.Name, at.Of(end)))
		}
		g.out.Escapes = append(g.out.Escapes, way)
	}
}

// shapes gathers hazards, areas of ground, havens and lines.
func (g *grounds) shapes() {
	for _, h := range g.p.Hazards {
		g.out.Hazards = append(g.out.Hazards, paper.CutHazard{Kind: h.Kind, Name: h.Title(), Points: g.all(h.Title(), h.Points), Closed: h.Closed})
	}
	for _, a := range g.p.Areas {
		g.out.Areas = append(g.out.Areas, paper.CutArea{Ground: a.Ground, Name: a.Title(), Outline: g.all(a.Title(), a.Points)})
	}
	for _, h := range g.p.Havens {
		g.out.Havens = append(g.out.Havens, paper.CutHaven{Name: h.Title(), Points: g.all(h.Title(), h.Points)})
	}
	for _, l := range g.p.Lines {
		g.out.Lines = append(g.out.Lines, paper.CutLine{Name: l.Title(), Points: g.all(l.Title(), l.Points), Catching: l.Catching})
	}
}
