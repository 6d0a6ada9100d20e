package escapepanel

import (
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

// lines is the section of lines to follow and catching features.
type lines struct {
	*shapes
	draws    *choice[plan.LineKind] // what is drawn next
	kind     *choice[plan.LineKind]
	catching *widgets.Check
	filling  bool
}

func newLines(p *Panel) *lines {
	n, s := p.n, p.n.Session
	x := &lines{}
	x.draws = newChoice(n, plan.LineKinds(), nil)
	x.kind = newChoice(n, plan.LineKinds(), s.SetLineKind)
	x.catching = widgets.NewCheck("catching feature", func(on bool) {
		if !x.filling {
			n.Foot.Try(s.SetCatching(x.id(), on), "Changed.")
		}
	}, n.View.Focus, n.View.Focus)
	draw := container.NewBorder(nil, nil, nil,
		button(n, "", "Draw line", "Click along the line on the sheet", x.begin), x.draws.list)
	x.shapes = newShapes(p, plan.OfLine, "No lines yet. Choose a kind of line, then draw it on the sheet.", draw,
		widgets.NewLabelled("kind", x.kind.list), x.catching)
	return x
}

func (x *lines) title() string { return "Lines" }

func (x *lines) shows() session.Aspect { return session.LinesChanged | session.SelectionChanged }

func (x *lines) next() string {
	return "Draw what a party can follow in cloud, or what would stop them going too far. A stream is water: draw it as a hazard."
}

// begin begins to draw a line of the chosen kind.
func (x *lines) begin() {
	kind := x.draws.chosen()
	x.p.draw.begin(task{what: kind.String(), least: 2, add: func(points []plan.Position) (plan.ID, error) {
		return x.p.n.Session.AddLine(kind, points)
	}})
}

func (x *lines) fill() {
	p := x.p.n.Session.Plan()
	if id, ok := x.fillForm(); ok {
		l, _ := p.LineByID(id)
		x.kind.show(id, l.Kind)
		x.filling = true
		x.catching.SetChecked(l.Catching)
		x.filling = false
	}
	var all []thinglist.Thing
	for _, l := range p.Lines {
		all = append(all, thinglist.Thing{ID: l.ID, Name: p.TitleOf(l.ID), Note: func() string { return lineNote(l) }})
	}
	x.setAll(all)
}

// lineNote says what a line is.
func lineNote(l plan.Line) string {
	if l.Catching {
		return l.Kind.String() + ", catching feature"
	}
	return l.Kind.String()
}
