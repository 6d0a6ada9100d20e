package escapepanel

import (
	"fyne.io/fyne/v2/container"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// areas is the section of areas of one ground, which say how fast legs are walked.
type areas struct {
	*shapes
	draws  *choice[pace.Ground] // what is drawn next
	ground *choice[pace.Ground]
}

func newAreas(p *Panel) *areas {
	n := p.n
	x := &areas{}
	x.draws = newChoice(n, plan.AreaGrounds(), nil)
	x.ground = newChoice(n, plan.AreaGrounds(), n.Session.SetAreaGround)
	draw := container.NewBorder(nil, nil, nil,
		button(n, "", "Draw area", "Click the corners of an area on the sheet", x.begin), x.draws.list)
	x.shapes = newShapes(p, plan.OfArea, "No areas of ground yet. Choose a kind of ground, then draw its area on the sheet.", draw,
		widgets.NewLabelled("ground", x.ground.list))
	return x
}

func (x *areas) title() string { return "Ground" }

func (x *areas) shows() session.Aspect { return session.AreasChanged | session.SelectionChanged }

func (x *areas) next() string {
	return "Inside an area, the ground drawn there sets the walking time, not the leg's. Plantation counts as impassable."
}

// begin begins to draw an area of the chosen ground.
func (x *areas) begin() {
	g := x.draws.chosen()
	x.p.draw.begin(task{what: g.String() + " area", closed: true, least: 3, add: func(points []plan.Position) (plan.ID, error) {
		return x.p.n.Session.AddArea(g, points)
	}})
}

func (x *areas) fill() {
	p := x.p.n.Session.Plan()
	if id, ok := x.fillForm(); ok {
		a, _ := p.AreaByID(id)
		x.ground.show(id, a.Ground)
	}
	var all []thinglist.Thing
	for _, a := range p.Areas {
		all = append(all, thinglist.Thing{ID: a.ID, Name: a.Title(), Note: a.Ground.String})
	}
	x.setAll(all)
}
