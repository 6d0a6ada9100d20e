package escapepanel

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// havens is the section of where a party is safe.
type havens struct {
	*shapes
	draws *choice[plan.HavenKind] // what is drawn next
	kind  *choice[plan.HavenKind]
	out   *widgets.EditField
}

func newHavens(p *Panel) *havens {
	n, s := p.n, p.n.Session
	x := &havens{}
	x.draws = newChoice(n, plan.HavenKinds(), nil)
	x.kind = newChoice(n, plan.HavenKinds(), s.SetHavenKind)
	x.out = widgets.NewEditField("not known", func(text string) bool {
		return n.Foot.Try(s.SetHavenOut(x.id(), text), "Changed.")
	}, n.View.Focus)
	draw := container.NewBorder(nil, nil, nil, container.NewHBox(
		button(n, "", "Set point", "Click where the haven is on the sheet", func() { x.begin(false) }),
		button(n, "", "Draw line", "Click along a line on the sheet, such as a road", func() { x.begin(true) })), x.draws.list)
	x.shapes = newShapes(p, plan.OfHaven, "No havens yet. Choose a kind of haven, then click its point or draw its line on the sheet.", draw,
		widgets.NewLabelled("kind", x.kind.list), widgets.NewLabelled("time to walk out", n.wheeled(x.out)))
	return x
}

func (x *havens) title() string { return "Havens" }

func (x *havens) shows() session.Aspect { return session.HavensChanged | session.SelectionChanged }

func (x *havens) next() string {
	if len(x.p.n.Session.Plan().Havens) == 0 {
		return "Mark where the party is safe: a road, a valley path, a shelter."
	}
	return "Type for each haven how many minutes it takes to walk out to where the party can be collected."
}

// begin begins to draw a haven of the chosen kind, a line or a point.
func (x *havens) begin(line bool) {
	kind, least, most := x.draws.chosen(), 1, 1
	if line {
		least, most = 2, 0
	}
	x.p.draw.begin(task{what: kind.String(), least: least, most: most, add: func(points []plan.Position) (plan.ID, error) {
		return x.p.n.Session.AddHaven(kind, points)
	}})
}

func (x *havens) fill() {
	p := x.p.n.Session.Plan()
	if id, ok := x.fillForm(); ok {
		h, _ := p.HavenByID(id)
		x.kind.show(id, h.Kind)
		text := ""
		if h.Out.Known {
			text = strconv.FormatFloat(h.Out.Min, 'f', -1, 64) + " min"
		}
		x.out.ShowText(string(id), text)
	} else {
		x.out.ShowText("", "")
	}
	var all []thinglist.Thing
	for _, h := range p.Havens {
		all = append(all, thinglist.Thing{ID: h.ID, Name: p.TitleOf(h.ID), Note: func() string { return havenNote(h) }})
	}
	x.setAll(all)
}

// havenNote says what a haven is and how long it takes to walk out.
func havenNote(h plan.Haven) string {
	if !h.Out.Known {
		return h.Kind.String() + ", time to walk out not known"
	}
	return fmt.Sprintf("%s, %g min to walk out", h.Kind, h.Out.Min)
}
