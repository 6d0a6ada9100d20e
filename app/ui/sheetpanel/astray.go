package sheetpanel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/ui/widgets"
)

// astray is the part of a question about intersections that shows which control points
// name one of them and lie elsewhere, and asks what to do with them.
type astray struct {
	n     *Needs
	body  *fyne.Container
	words *widgets.Sentence
	do    *widgets.Select
}

// What to do with control points that lie off the intersections they name.
const (
	moveThem  = "Move onto the intersection"
	leaveThem = "Leave in place, and skip the intersection"
)

func newAstray(n *Needs) *astray {
	a := &astray{n: n, words: widgets.NewSentence("", widgets.Caution)}
	a.do = n.Ask.Select([]string{moveThem, leaveThem}, func(string) {})
	a.do.SetSelected(moveThem)
	a.body = container.NewVBox(a.words, a.do)
	a.body.Hide()
	return a
}

// moves reports whether the points shown shall be moved onto their intersections.
func (a *astray) moves() bool { return a.do.Selected == moveThem }

// show shows the points that name one of these intersections and lie more than so many
// pixels off it.
func (a *astray) show(intersections []calib.ControlPoint, onPx float64) {
	var texts []string
	for i, c := range sheetOf(a.n.Session).Points {
		k := slices.IndexFunc(intersections, func(x calib.ControlPoint) bool { return calib.SameGround(x.Ref, c.Ref) })
		if k < 0 || c.Source == calib.FilePoint {
			continue
		}
		at := intersections[k].At
		if off := math.Hypot(at.Col-c.At.Col, at.Row-c.At.Row); off > onPx {
			texts = append(texts, fmt.Sprintf("Control point %d, %s, is %.1f px off the intersection that its reference names.", i+1, shortRef(c.Text), off))
		}
	}
	show(a.body, len(texts) > 0)
	const most = 3
	if more := len(texts) - most; more > 0 {
		texts = append(texts[:most], fmt.Sprintf("And %d more like this.", more))
	}
	a.words.Set(strings.Join(texts, " "), widgets.Caution)
}

// withNear adds to names the control points near, not at, an intersection, if each
// names that intersection by what the names and the lines say together.
func (g *FoundGrid) withNear(n lattice.Naming) lattice.Naming {
	for _, name := range g.names(g.found.Nearest) {
		more := n
		more.Names = append(slices.Clone(n.Names), name)
		if s, err := g.found.SquareOf(more); err == nil && s.SideM > 0 {
			n = more
		}
	}
	return n
}
