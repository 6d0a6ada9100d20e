package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
)

// takeFound offers to make the crossings control points; one must have been
// named.
func (b *Bench) takeFound() {
	switch {
	case b.printed.found == nil:
		b.say("Let the printed grid be found first  (Ctrl+R).")
	case len(b.crossingNames()) == 0:
		b.say("Click one crossing of the printed grid and type its reference first: it names the others.")
	default:
		b.offerPrintedGrid()
	}
}

// crossingNames are the control points that name crossings of the grid that was
// found.
func (b *Bench) crossingNames() []lattice.Name {
	sheet, _ := b.s.Sheet()
	var names []lattice.Name
	for _, c := range sheet.Points {
		if _, ok := b.printed.found.Nearest(c.At); ok {
			names = append(names, lattice.Name{At: c.At, Ref: c.Ref})
		}
	}
	return names
}

// offerPrintedGrid offers the crossings where control points name some.
func (b *Bench) offerPrintedGrid() {
	l, names := b.printed.found, b.crossingNames()
	sheet, _ := b.s.Sheet()
	if len(names) == 0 {
		b.say("That point lies on no crossing of the grid that was found: click one of the rings.")
		return
	}
	if at, sys := b.graticuleNames(); len(at) > 0 {
		b.askGraticule(graticule{names: at, sys: sys})
		return
	}
	square, told := l.SquareM(names)
	if !told {
		square = calib.UsualSquareM
	}
	if _, err := l.Named(names, square, b.northQuarter()); err != nil {
		b.refuse("The printed grid does not fit the control points", err)
		return
	}
	b.say("The printed grid was found.")
	sizes := squareSizes()
	if told {
		sizes = []float64{square}
	}
	b.askPrintedGrid(names, sizes, square, sheet.Proof.Proved())
}

// squareSizes are the sides of grid squares on maps, in metres (common
// practice, no source).
func squareSizes() []float64 {
	return []float64{100, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000}
}

// askPrintedGrid asks how large a square is and whether to take the crossings.
func (b *Bench) askPrintedGrid(names []lattice.Name, sizes []float64, square float64, proved bool) {
	l := b.printed.found
	words := fmt.Sprintf("%d crossings become the control points; your own are drawn onto their crossings.", len(b.printed.offer.Crossings))
	if proved {
		words += " The sheet is unproved then, until a feature agrees again."
	}
	if l.Oblong {
		words += " The meshes are no squares: these may be lines of latitude and longitude, and then this is wrong: leave it, and type the latitude and longitude of a crossing."
	}
	scale := wrapped("")
	scale.Importance = widget.LowImportance
	labels := make([]string, len(sizes))
	for i, m := range sizes {
		labels[i] = lengthLabel(m)
	}
	choice := widget.NewSelect(labels, func(t string) {
		square = sizes[slices.Index(labels, t)]
		scale.SetText(b.squareWords(square))
	})
	choice.SetSelected(lengthLabel(square))
	body := container.NewVBox(wrapped(words),
		container.NewHBox(widget.NewLabel("The margin says a square is"), choice), scale)
	b.questionOver("Take the printed grid?", body, nil,
		answer{text: "Leave it"},
		answer{text: "Take the crossings", strong: true, do: func() { b.takePrintedGrid(names, square) }})
}

// squareWords says what a size of square makes of the picture.
func (b *Bench) squareWords(square float64) string {
	if b.printed.found == nil {
		return ""
	}
	px := square / b.printed.found.SquarePx
	text := fmt.Sprintf("A pixel is then %.3g m.", px)
	if sheet, _ := b.s.Sheet(); sheet.DPI > 0 {
		text = fmt.Sprintf("A pixel is then %.3g m, and the paper 1:%.0f.", px, px*sheet.DPI/0.0254)
	}
	return text
}

func (b *Bench) takePrintedGrid(names []lattice.Name, square float64) {
	if b.printed.found == nil { // another picture came while it was asked
		return
	}
	points, err := b.printed.points(names, square, b.northQuarter())
	if err == nil {
		err = b.s.TakeCrossings(points, b.printed.found.SquarePx/4)
	}
	if b.try(err, fmt.Sprintf("%d crossings are the control points now. The sheet stays unproved until a feature agrees.", len(points))) {
		b.printed.forget()
		b.sheetP.forgetAndRefresh()
	}
}

// points are the control points that the crossings on offer become.
func (g *printedGrid) points(names []lattice.Name, square float64, quarter int) ([]calib.ControlPoint, error) {
	all, err := g.found.Named(names, square, quarter)
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
