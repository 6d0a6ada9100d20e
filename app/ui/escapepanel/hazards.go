package escapepanel

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// hazards is the section of what no leg may come near, what bars the way and what costs
// time.
type hazards struct {
	*shapes
	draws   *choice[plan.HazardKind] // what is drawn next
	kind    *choice[plan.HazardKind]
	crosses *choice[plan.Crossing]
	across  fyne.CanvasObject // the crossing, of water alone
	keep    *widgets.EditField
}

func newHazards(p *Panel) *hazards {
	n, s := p.n, p.n.Session
	x := &hazards{}
	x.draws = newChoice(n, plan.HazardKinds(), nil)
	x.kind = newChoice(n, plan.HazardKinds(), s.SetHazardKind)
	x.crosses = newChoice(n, plan.Crossings(), s.SetCrossing)
	x.keep = widgets.NewEditField("distance, such as 50 m", func(text string) bool {
		return n.Foot.Try(s.SetHazardKeep(x.id(), text), "Changed.")
	}, n.View.Focus)
	x.across = widgets.NewLabelled("crossing", x.crosses.list)
	draw := container.NewBorder(nil, nil, nil, container.NewHBox(
		button(n, "", "Draw area", "Click the corners of an area on the sheet", func() { x.begin(true) }),
		button(n, "", "Draw line", "Click along a line on the sheet", func() { x.begin(false) })), x.draws.list)
	x.shapes = newShapes(p, plan.OfHazard, "No hazards yet. Choose a kind of hazard, then draw its area or line on the sheet.", draw,
		widgets.NewLabelled("kind", x.kind.list), widgets.NewLabelled("keep away by", n.wheeled(x.keep)), x.across)
	return x
}

func (x *hazards) title() string { return "Hazards" }

func (x *hazards) shows() session.Aspect {
	return session.HazardsChanged | session.SelectionChanged
}

func (x *hazards) next() string {
	if len(x.p.n.Session.Plan().Hazards) == 0 {
		return "Draw the crags, steep ground and water that no leg may come near. What is not drawn is not judged."
	}
	return "Drag a point to move it. A double click on a line adds a point there."
}

// begin begins to draw a hazard of the chosen kind.
func (x *hazards) begin(closed bool) {
	kind, least := x.draws.chosen(), 2
	if closed {
		least = 3
	}
	x.p.draw.begin(task{what: kind.String(), closed: closed, least: least, add: func(points []plan.Position) (plan.ID, error) {
		return x.p.n.Session.AddHazard(kind, closed, points)
	}})
}

func (x *hazards) fill() {
	p := x.p.n.Session.Plan()
	if id, ok := x.fillForm(); ok {
		h, _ := p.HazardByID(id)
		x.kind.show(id, h.Kind)
		x.crosses.show(id, h.Crosses)
		x.keep.ShowText(string(id), strconv.FormatFloat(h.KeepM, 'f', -1, 64)+" m")
		visible(x.across, h.Kind == plan.Water)
	} else {
		x.keep.ShowText("", "")
	}
	var all []thinglist.Thing
	for _, h := range p.Hazards {
		all = append(all, thinglist.Thing{ID: h.ID, Name: p.TitleOf(h.ID), Note: func() string { return hazardNote(h) }})
	}
	x.setAll(all)
}

// hazardNote says what a hazard is and how far a leg keeps from it.
func hazardNote(h plan.Hazard) string {
	text := h.Kind.String() + ", line"
	if h.Closed {
		text = h.Kind.String() + ", area"
	}
	if h.KeepM > 0 {
		text += fmt.Sprintf(", keep %g m away", h.KeepM)
	}
	if h.Kind == plan.Water {
		text += ", " + h.Crosses.String()
	}
	return text
}
