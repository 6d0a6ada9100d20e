package sheetpanel

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// Take offers to make the intersections of the grid found control points; one must
// have been named.
func (g *FoundGrid) Take() {
	switch {
	case g.found == nil:
		g.n.Foot.Say("Find the printed grid first  (Ctrl+R).")
	case len(g.names(g.found.On)) == 0:
		g.n.Foot.Say("Click a grid intersection and type its reference first: the others are counted from it.")
	default:
		g.offerTake()
	}
}

// names are the control points at which an intersection counts as named: at them a
// reference means its south-west corner.
func (g *FoundGrid) names(at func(calib.PicturePt) (lattice.Intersection, bool)) []lattice.Name {
	var names []lattice.Name
	for _, c := range sheetOf(g.n.Session).Points {
		if _, on := at(c.At); !on || c.Source == calib.FilePoint {
			continue
		}
		name := lattice.Name{At: c.At, Ref: c.Ref, Text: c.Text}
		if r, err := g.n.Session.CheckReference(c.Text); err == nil && math.Hypot(r.Grid.E-c.Ref.E, r.Grid.N-c.Ref.N) <= r.Read.SquareM {
			name.Ref = r.Grid
		}
		names = append(names, name)
	}
	return names
}

// naming is what is known of the squares, but for their side.
func (g *FoundGrid) naming(names []lattice.Name) lattice.Naming {
	sheet := sheetOf(g.n.Session)
	n := lattice.Naming{Names: names, Quarter: g.northQuarter()}
	n.Medium = sheet.Medium
	if sys, err := g.n.Session.Reader().SystemOf(sheet.Code); err == nil {
		n.System = sys
	}
	return n
}

// offerTake offers the grid intersections where control points name some.
func (g *FoundGrid) offerTake() {
	names := g.names(g.found.On)
	if len(names) == 0 {
		g.n.Foot.Say("That point is not at an intersection of the grid found: click one of the rings.")
		return
	}
	if at, sys := g.latLonNames(); len(at) > 0 {
		g.askGraticule(graticule{names: at, sys: sys})
		return
	}
	n := g.withNear(g.naming(names))
	err := g.found.Squares(n.Medium)
	var square lattice.Square
	if err == nil {
		square, err = g.found.SquareOf(n)
	}
	if err != nil {
		g.n.Ask.Refuse("The printed grid cannot be used", err)
		return
	}
	g.n.Foot.Say("The printed grid was found.")
	g.askSquares(n, square)
}

// squareSizes are the sides a person may choose from, in metres: the one that the
// names give or, where they leave it open, all usual ones.
func squareSizes(n lattice.Naming, s lattice.Square) []float64 {
	if s.SideM > 0 {
		return []float64{s.SideM}
	}
	return lattice.UsualSides(n.System)
}

// askSquares asks how wide a square is, unless the names give it, and whether to use
// the grid intersections.
func (g *FoundGrid) askSquares(n lattice.Naming, s lattice.Square) {
	words := fmt.Sprintf("%s become the control points; your own points at these intersections snap to them.", g.offerWords())
	if s.SideM == 0 {
		words += " Read in the margin how wide a square is: a wrong width puts all the other points in the wrong position."
		if _, err := g.n.Session.Calibration(); err != nil {
			words += " The program assumes that north is at the top of the picture."
		}
		words += " If you are not sure, cancel and name a second intersection: the number of lines between the two then gives the width."
	}
	result := widgets.NewSentence("", widgets.Note)
	result.Hide() // until there is something to say
	sizes := squareSizes(n, s)
	labels := make([]string, len(sizes))
	for i, m := range sizes {
		labels[i] = lattice.SideWords(m, n.System)
	}
	off := newAstray(g.n)
	g.choice = g.n.Ask.Select(labels, func(t string) {
		n.SquareM = sizes[slices.Index(labels, t)]
		result.Set(g.squareWords(n))
		result.Show()
		if g.found != nil {
			all, _ := g.found.Named(n) // result shows the error
			off.show(all, g.found.OnPx())
		}
	})
	if s.SideM > 0 {
		g.choice.SetSelected(labels[0])
	}
	body := container.NewVBox(widgets.NewWrapped(words),
		container.NewHBox(widget.NewLabel("A square is"), g.choice), result, off.body)
	g.n.Ask.QuestionOver("Use the printed grid?", body, nil,
		ask.Answer{Text: "Cancel"}, ask.Answer{Text: "Use the intersections", Do: func() { g.takeSquares(n, off.moves()) }, Default: true})
}

// squareWords say what a width of squares makes of the sheet, or why the names
// contradict it.
func (g *FoundGrid) squareWords(n lattice.Naming) (string, widgets.Tone) {
	if g.found == nil {
		return "", widgets.Note
	}
	if _, err := g.found.SquareOf(n); err != nil {
		return sentence(err), widgets.Caution
	}
	return sheetWords(sheetOf(g.n.Session), n.SquareM/g.found.SquarePx), widgets.Note
}

// sheetWords say how large a pixel of so many metres makes the sheet. The scale of the
// map comes from the picture's pixels per inch, which in a photograph say nothing of it.
func sheetWords(sheet plan.Sheet, mpp float64) string {
	text := fmt.Sprintf("That makes the sheet %s wide and %s high, and a pixel %s wide",
		sizeLabel(float64(sheet.Width)*mpp), sizeLabel(float64(sheet.Height)*mpp), sizeLabel(mpp))
	if sheet.DPI > 0 && sheet.Medium != calib.Photograph {
		text += fmt.Sprintf("; the map would be 1:%.0f", mpp*sheet.DPI/0.0254)
	}
	return text + "."
}

// sizeLabel writes a length to three digits or to whole units.
func sizeLabel(m float64) string {
	digits := func(v float64) string {
		if v >= 100 {
			return fmt.Sprintf("%.0f", v)
		}
		return fmt.Sprintf("%.3g", v)
	}
	if m >= 1000 {
		return digits(m/1000) + " km"
	}
	return digits(m) + " m"
}

func (g *FoundGrid) takeSquares(n lattice.Naming, move bool) {
	if g.found == nil { // another picture came while it was asked
		return
	}
	s, err := g.found.SquareOf(n)
	if err == nil && s.SideM == 0 {
		g.askSquares(n, s)
		g.n.Foot.Say("Choose how wide a square is: read it in the margin.")
		return
	}
	var points []calib.ControlPoint
	if err == nil {
		points, err = g.points(n)
	}
	g.takeAll(points, move, err)
}

// takeAll makes points the control points, unless there is an error to show. Points
// that name an intersection and lie off it are moved onto it, or stay in its place.
func (g *FoundGrid) takeAll(points []calib.ControlPoint, move bool, err error) {
	if err == nil {
		err = g.n.Session.TakeIntersections(points, g.found.OnPx(), move)
	}
	if g.n.Foot.Try(err, takenWords(sheetOf(g.n.Session).Points)) {
		g.do.taken()
	}
}

// takenWords count the intersections among the control points and say what to do next.
func takenWords(points []calib.ControlPoint) string {
	n := 0
	for _, c := range points {
		if c.Source == calib.FoundPoint {
			n++
		}
	}
	return fmt.Sprintf("%d grid intersections are now the control points. Check the sheet with a feature that is not one of them.", n)
}

// points are the control points that the intersections on offer become.
func (g *FoundGrid) points(n lattice.Naming) ([]calib.ControlPoint, error) {
	all, err := g.found.Named(n)
	if err != nil {
		return nil, err
	}
	return g.offered(all), nil
}

// offered are those of the points of all intersections, in their order, whose
// intersections are on offer.
func (g *FoundGrid) offered(all []calib.ControlPoint) []calib.ControlPoint {
	if len(g.offer.Intersections) == len(g.found.Intersections) {
		return all
	}
	offered := map[[2]int]bool{}
	for _, c := range g.offer.Intersections {
		offered[[2]int{c.I, c.J}] = true
	}
	var out []calib.ControlPoint
	for i, c := range g.found.Intersections {
		if offered[[2]int{c.I, c.J}] {
			out = append(out, all[i])
		}
	}
	return out
}

// northQuarter is how many quarter turns clockwise grid north is from picture up, as
// far as the calibration knows.
func (g *FoundGrid) northQuarter() int {
	c, err := g.n.Session.Calibration()
	if err != nil {
		return 0
	}
	return int(math.Round(c.Rotation().Rad() / (math.Pi / 2)))
}
