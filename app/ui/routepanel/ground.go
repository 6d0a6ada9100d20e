package routepanel

import (
	"slices"

	"fyne.io/fyne/v2"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
)

// groundField chooses what the selected leg is walked on.
type groundField struct {
	n      *Needs
	choice *widgets.Select
	of     plan.ID
}

func newGroundField(n *Needs) *groundField {
	g := &groundField{n: n}
	var words []string
	for _, x := range pace.Grounds() {
		words = append(words, x.Words())
	}
	g.choice = widgets.NewSelect(words, g.chosen, n.View.Focus, n.View.Focus)
	return g
}

// show shows the ground of a leg.
func (g *groundField) show(l plan.Leg) fyne.CanvasObject {
	g.of = "" // showing is no choosing
	g.choice.SetSelectedIndex(slices.Index(pace.Grounds(), l.Ground))
	g.of = l.ID
	return widgets.NewLabelled("ground", g.choice)
}

func (g *groundField) chosen(string) {
	if g.of == "" {
		return
	}
	g.n.Foot.Try(g.n.Session.SetLegGround(g.of, pace.Grounds()[g.choice.SelectedIndex()]), "Changed.")
	g.n.View.Focus()
}
