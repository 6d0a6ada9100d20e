package routepanel

import (
	"errors"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/widgets"
)

// inSight sorts the marks by how they are seen from one of them.
type inSight struct{ seen, close, hidden, unknown []string }

// CanSee says which other marks can be seen from the selected one.
func (p *Panel) CanSee() {
	n := p.n
	from, ok := n.Session.Plan().MarkByID(n.Session.Selection().ID)
	switch {
	case !ok:
		n.Foot.Fail(errors.New("first select the mark to look from"))
	case len(n.Session.Plan().Marks) < 2:
		n.Foot.Fail(errors.New("there is no other mark to look at. Double-click the sheet to set one"))
	case n.Session.Reader().Model() == nil:
		n.Foot.Fail(errors.New("without terrain the program cannot say what can be seen. To open some: File → Open terrain…"))
	default:
		r := n.Session.Reader()
		n.Ask.Show("Seen from "+from.Name, seenBody(r, r.CautionsOfMarks(), lookFrom(r, n.Session.Plan(), from, p.concealed)), fyne.NewSize(560, 440))
	}
}

// lookFrom asks the terrain for each other mark. Lengths are left out where they must not
// be told.
func lookFrom(r *leg.Reader, p *plan.Plan, from plan.Mark, concealed bool) (out inSight) {
	for _, m := range p.Marks {
		if m.ID == from.ID {
			continue
		}
		s, ok := r.Sight(from.Position, m.Position)
		ground := ""
		if ok && !concealed && !s.Visible {
			ground = fmt.Sprintf(" (ground %.0f m away)", s.AlongM)
		}
		switch {
		case !ok:
			out.unknown = append(out.unknown, m.Name)
		case s.Doubtful():
			out.close = append(out.close, m.Name+ground)
		case s.Visible:
			out.seen = append(out.seen, m.Name)
		default:
			out.hidden = append(out.hidden, m.Name+ground)
		}
	}
	return out
}

// seenBody puts it into words, with what speaks against the marks' positions and what
// terrain does not know.
func seenBody(r *leg.Reader, against []caution.Caution, x inSight) fyne.CanvasObject {
	list, sure := container.NewVBox(), widgets.Good
	for _, c := range against {
		tone := widgets.Caution
		if c.Stop() {
			tone = widgets.Fault
		}
		sure = widgets.Note // positions may be wrong
		list.Add(widgets.NewSentence(c.Text(), tone))
	}
	for _, part := range []struct {
		head  string
		names []string
		tone  widgets.Tone
	}{
		{"In sight", x.seen, sure},
		{fmt.Sprintf("Doubtful: the ground comes within %d m of the line of sight", terrain.DeadBandM), x.close, widgets.Caution},
		{"Hidden by the ground", x.hidden, widgets.Note},
		{"Not known: the terrain has no heights along part of the line of sight", x.unknown, widgets.Caution},
	} {
		if len(part.names) > 0 {
			list.Add(widgets.NewHeading(part.head))
			list.Add(widgets.NewSentence(strings.Join(part.names, ", ")+".", part.tone))
		}
	}
	words := fmt.Sprintf("Judged by the terrain alone, from an eye %.1f m above the ground to the ground at each mark. Trees, buildings and weather are not counted.", leg.EyeM)
	for _, c := range r.GroundCautions() {
		words += " " + c.Text()
	}
	list.Add(widgets.NewWrappedQuiet(words))
	return container.NewVScroll(container.New(&widgets.Pad{Right: 12}, list))
}
