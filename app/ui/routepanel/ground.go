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
	row    fyne.CanvasObject
	areas  *widgets.Sentence // what of the leg lies in areas of ground
	of     plan.ID
}

func newGroundField(n *Needs) *groundField {
	g := &groundField{n: n}
	var words []string
	for _, x := range pace.Grounds() {
		words = append(words, x.String())
	}
	g.choice = widgets.NewSelect(words, g.chosen, n.View.Focus, n.View.Focus)
	g.areas = widgets.NewSentence("", widgets.Note)
	g.row = widgets.NewLabelled("ground", g.choice)
	return g
}

// show shows the ground of a leg.
func (g *groundField) show(l plan.Leg) fyne.CanvasObject {
	g.of = "" // showing is no choosing
	if i := slices.Index(pace.Grounds(), l.Ground); i != g.choice.SelectedIndex() {
		g.choice.SetSelectedIndex(i)
	}
	g.of = l.ID
	return g.row
}

// byAreas says on which ground a leg lies by what is drawn, nil where nothing is or
// figures are hidden.
func (g *groundField) byAreas(l plan.Leg, concealed bool) fyne.CanvasObject {
	for _, row := range g.n.Session.Reader().Legs() {
		if row.ID == l.ID && len(row.Ground) > 0 && !concealed {
			g.areas.Set("From the areas drawn on the sheet: "+row.GroundWords(l.Ground)+".", widgets.Note)
			return g.areas
		}
	}
	return nil
}

func (g *groundField) chosen(string) {
	if g.of == "" {
		return
	}
	g.n.Foot.Try(g.n.Session.SetLegGround(g.of, pace.Grounds()[g.choice.SelectedIndex()]), "Changed.")
	g.n.View.Focus()
}
