package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// takeFound offers to make the grid intersections control points; one must have
// been named.
func (b *Bench) takeFound() {
	switch {
	case b.printed.found == nil:
		b.say("Find the printed grid first  (Ctrl+R).")
	case len(b.crossingNames()) == 0:
		b.say("Click a grid intersection and type its reference first: the others are counted from it.")
	default:
		b.offerPrintedGrid()
	}
}

// crossingNames are the control points that name crossings of the grid that was
// found. There a reference means its south-west corner.
func (b *Bench) crossingNames() []lattice.Name {
	var names []lattice.Name
	for _, c := range b.sheetNow().Points {
		if _, on := b.printed.found.On(c.At); !on || c.Source == calib.FilePoint {
			continue
		}
		name := lattice.Name{At: c.At, Ref: c.Ref, Text: c.Text}
		if r, err := b.s.CheckReference(c.Text); err == nil && math.Hypot(r.Grid.E-c.Ref.E, r.Grid.N-c.Ref.N) <= r.Read.SquareM {
			name.Ref = r.Grid
		}
		names = append(names, name)
	}
	return names
}

// naming is what is known of the squares, but for their side.
func (b *Bench) naming(names []lattice.Name) lattice.Naming {
	sheet := b.sheetNow()
	n := lattice.Naming{Names: names, Quarter: b.northQuarter()}
	n.Medium = sheet.Medium
	if sys, err := b.s.Reader().SystemOf(sheet.Code); err == nil {
		n.System = sys
	}
	return n
}

// offerPrintedGrid offers the grid intersections where control points name some.
func (b *Bench) offerPrintedGrid() {
	l, names := b.printed.found, b.crossingNames()
	if len(names) == 0 {
		b.say("That point lies on no intersection of the grid that was found: click one of the rings.")
		return
	}
	if at, sys := b.graticuleNames(); len(at) > 0 {
		b.askGraticule(graticule{names: at, sys: sys})
		return
	}
	n := b.naming(names)
	err := l.Squares(n.Medium)
	var square lattice.Square
	if err == nil {
		square, err = l.SquareOf(n)
	}
	if err != nil {
		b.refuse("The printed grid cannot be used", err)
		return
	}
	b.say("The printed grid was found.")
	b.askPrintedGrid(n, square)
}

// squareSizes are the sides a person may choose from, in metres: those that the
// names tell or, where they leave it open, all usual ones.
func squareSizes(n lattice.Naming, s lattice.Square) []float64 {
	if s.SideM > 0 {
		return []float64{s.SideM}
	}
	return lattice.UsualSides(n.System)
}

// askPrintedGrid asks how wide a square is, unless the names tell it, and
// whether to use the grid intersections.
func (b *Bench) askPrintedGrid(n lattice.Naming, s lattice.Square) {
	words := fmt.Sprintf("%d grid intersections become the control points, yours among them.", len(b.printed.offer.Crossings))
	if s.SideM == 0 {
		words += " Read in the margin how wide a square is: a wrong width puts every other position in the wrong place. North is taken to be at the top of the picture. Or cancel and type a second intersection: the lines between both then tell the width."
	}
	result := widgets.NewSentence("", widgets.Note)
	sizes := squareSizes(n, s)
	labels := make([]string, len(sizes))
	for i, m := range sizes {
		labels[i] = lattice.SideWords(m, n.System)
	}
	b.printed.choice = widget.NewSelect(labels, func(t string) {
		n.SquareM = sizes[slices.Index(labels, t)]
		text, tone := b.squareWords(n)
		result.Set(text, tone)
	})
	b.printed.choice.PlaceHolder = "choose"
	if s.SideM > 0 {
		b.printed.choice.SetSelected(labels[0])
	}
	body := container.NewVBox(widgets.NewWrapped(words),
		container.NewHBox(widget.NewLabel("A square is"), b.printed.choice), result)
	b.questionOver("Use the printed grid?", body, nil,
		answer{text: "Cancel"},
		answer{text: "Use the intersections", strong: true, do: func() { b.takePrintedGrid(n) }})
}

// squareWords say what a width of squares makes of the sheet, or why the names
// contradict it.
func (b *Bench) squareWords(n lattice.Naming) (string, widgets.Tone) {
	l := b.printed.found
	if l == nil {
		return "", widgets.Note
	}
	if _, err := l.SquareOf(n); err != nil {
		return foot.Sentence(err), widgets.Caution
	}
	return sheetWords(b.sheetNow(), n.SquareM/l.SquarePx), widgets.Note
}

// sheetWords say how large a pixel so wide makes the sheet.
func sheetWords(sheet plan.Sheet, mpp float64) string {
	text := fmt.Sprintf("The sheet would be %s wide and %s high, and a pixel %s",
		sizeLabel(float64(sheet.Width)*mpp), sizeLabel(float64(sheet.Height)*mpp), sizeLabel(mpp))
	if sheet.DPI > 0 {
		text += fmt.Sprintf("; the paper would be 1:%.0f", mpp*sheet.DPI/0.0254)
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

func (b *Bench) takePrintedGrid(n lattice.Naming) {
	l := b.printed.found
	if l == nil { // another picture came while it was asked
		return
	}
	s, err := l.SquareOf(n)
	if err == nil && s.SideM == 0 {
		b.askPrintedGrid(n, s)
		b.say("Choose how wide a square is: read it in the margin.")
		return
	}
	points, err := b.printed.points(n)
	if err == nil {
		err = b.s.TakeCrossings(points, l.OnPx())
	}
	if b.try(err, fmt.Sprintf("%d grid intersections are the control points now. Check the sheet with a feature that was not used for it.", len(points))) {
		b.printed.forget()
		b.sheetP.forgetAndRefresh()
	}
}

// points are the control points that the crossings on offer become.
func (g *printedGrid) points(n lattice.Naming) ([]calib.ControlPoint, error) {
	all, err := g.found.Named(n)
	if err != nil {
		return nil, err
	}
	return g.offered(all), nil
}

// offered are those of the points of all crossings, in their order, whose
// crossings are on offer.
func (g *printedGrid) offered(all []calib.ControlPoint) []calib.ControlPoint {
	if len(g.offer.Crossings) == len(g.found.Crossings) {
		return all
	}
	offered := map[[2]int]bool{}
	for _, c := range g.offer.Crossings {
		offered[[2]int{c.I, c.J}] = true
	}
	var out []calib.ControlPoint
	for i, c := range g.found.Crossings {
		if offered[[2]int{c.I, c.J}] {
			out = append(out, all[i])
		}
	}
	return out
}

// northQuarter is how many quarter turns clockwise grid north is from picture
// up, as far as the calibration knows.
func (b *Bench) northQuarter() int {
	c, err := b.s.Calibration()
	if err != nil {
		return 0
	}
	return int(math.Round(c.Rotation().Rad() / (math.Pi / 2)))
}
