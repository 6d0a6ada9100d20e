package ui

import (
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

const (
	// searchedPixels is the size of picture in which the printed grid is
	// looked for; larger sheets are reduced.
	searchedPixels = 30_000_000
	// mostCrossings is how many crossings become control points: more add
	// nothing but waiting.
	mostCrossings = 240
	// usualSquareM is the side of a grid square unless two points say
	// otherwise (common practice, no source).
	usualSquareM = 1000
)

// printedGrid is the grid that was found in the picture, until it is taken or
// let go.
type printedGrid struct {
	found  *lattice.Lattice   // all of it
	offer  *lattice.Lattice   // the crossings that become control points
	drawn  overlay.Found      // how they are shown
	cancel context.CancelFunc // of the search under way, or nil
	doing  string             // how far that is, in words
}

func (g *printedGrid) forget() {
	if g.cancel != nil {
		g.cancel()
	}
	*g = printedGrid{}
}

// findPrintedGrid looks for the printed grid away from the window. What is
// found waits for a crossing to be named, or takes the names of the control
// points that are there.
func (b *Bench) findPrintedGrid() {
	p := b.picture.pyramid
	if p == nil {
		b.say("Open the picture of a map first.")
		return
	}
	if !p.Ready(0) {
		b.say("The picture is still being opened.")
		return
	}
	b.printed.forget()
	ctx, cancel := context.WithCancel(context.Background())
	b.printed.cancel = cancel
	b.printed.doing = "reading the picture"
	b.goTo(postSheet)
	b.sheetP.refresh()
	b.focusSheet() // so that Esc is heard
	b.say("Looking for the printed grid…")
	stage := func(what string, done float64) {
		b.later(func() {
			if ctx.Err() == nil && b.printed.cancel != nil {
				b.printed.doing = fmt.Sprintf("%s, %.0f %%", what, 100*done)
				b.sheetP.refresh()
			}
		})
	}
	go func() {
		m, k := searched(ctx, p)
		l, why, err := lattice.Find(ctx, m, stage)
		b.later(func() {
			if ctx.Err() != nil || err != nil || b.picture.pyramid != p {
				return
			}
			b.printed.forget()
			if l != nil {
				b.foundGrid(l.Enlarged(float64(k)))
				return
			}
			b.sheetP.knows.judge.refused(why)
			b.sheetP.refresh()
			b.say("No printed grid was found: " + why + ".")
		})
	}()
}

// foundGrid lays the grid that was found over the picture, so that a person
// sees whether it is the printed one.
func (b *Bench) foundGrid(l *lattice.Lattice) {
	b.printed.found, b.printed.offer = l, l.Thinned(mostCrossings)
	b.printed.drawn = overlay.FoundOf(l, b.printed.offer)
	b.sheetP.knows.judge.judge(l)
	b.say(fmt.Sprintf("A grid with %d crossings was found: is it the printed one?", len(l.Crossings)))
	b.sheetP.refresh()
	b.refreshAll()
	b.focusSheet()
}

// words says what is to be done about the search or what it found, "" where
// there is neither.
func (g *printedGrid) words(b *Bench) string {
	switch {
	case g.cancel != nil:
		return "Looking for the printed grid: " + g.doing + "."
	case g.found == nil:
		return ""
	case b.sheetP.knows.judge.placed(b.sheetNow()):
		return b.sheetP.knows.judge.words(b.sheetNow())
	case len(b.crossingNames()) > 0:
		return "Look closely: do the blue dashes lie on the printed lines? " + g.seenWords() + " Then take the crossings; else let go  (Esc)."
	}
	return "Look closely: do the blue dashes lie on the printed lines? " + g.seenWords() +
		" Then click one crossing and type its reference: the others follow. Else let go  (Esc)."
}

// seenWords counts the crossings by how well they are seen.
func (g *printedGrid) seenWords() string {
	var n [3]int
	for _, c := range g.drawn.Crossings {
		n[c.Seen]++
	}
	text := fmt.Sprintf("Of %d crossings %d are well seen (closed rings)", len(g.drawn.Crossings), n[overlay.WellSeen])
	if k := n[overlay.PartlySeen]; k > 0 {
		text += fmt.Sprintf(", %d partly (broken rings)", k)
	}
	if k := n[overlay.FaintlySeen]; k > 0 {
		text += fmt.Sprintf(", %d faintly (two strokes)", k)
	}
	return text + "."
}

// letGridGo gives the search up, or forgets the grid that was found. It reports
// whether there was either.
func (b *Bench) letGridGo() bool {
	g := &b.printed
	if g.cancel == nil && g.found == nil {
		return false
	}
	words := "The grid that was found is let go."
	if g.cancel != nil {
		words = "The search for the printed grid was given up."
	}
	g.forget()
	b.sheetP.refresh()
	b.refreshAll()
	b.say(words)
	return true
}

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

// searched reads the picture as it is, without contrast, fade or inversion,
// in grey and reduced k times where it is large.
func searched(ctx context.Context, p *pyramid.Pyramid) (m *image.Gray, k int) {
	const side = pyramid.MaxCrop
	sz := p.Size()
	k = 1
	for sz.X/k*(sz.Y/k) > searchedPixels {
		k *= 2
	}
	m = image.NewGray(image.Rect(0, 0, sz.X/k, sz.Y/k))
	for y := 0; y < sz.Y && ctx.Err() == nil; y += side {
		for x := 0; x < sz.X; x += side {
			greyInto(m, p.Crop(image.Rect(x, y, x+side, y+side)), x, y, k)
		}
	}
	return m, k
}

// greyInto puts the block that stands at column x, row y into the reduced
// grey picture.
func greyInto(m *image.Gray, c *image.RGBA, x, y, k int) {
	n := c.Rect.Size()
	for j := 0; j+k <= n.Y && (y+j)/k < m.Rect.Dy(); j += k {
		row := m.Pix[(y+j)/k*m.Stride:]
		for i := 0; i+k <= n.X && (x+i)/k < m.Rect.Dx(); i += k {
			sum := 0
			for t := range k {
				p := c.Pix[(j+t)*c.Stride+4*i:][:4*k]
				for o := 0; o < len(p); o += 4 {
					sum += int(p[o]) + 2*int(p[o+1]) + int(p[o+2])
				}
			}
			row[(x+i)/k] = uint8(sum / (4 * k * k))
		}
	}
}

// offerPrintedGrid offers the crossings where control points name some.
func (b *Bench) offerPrintedGrid() {
	l, names := b.printed.found, b.crossingNames()
	sheet, _ := b.s.Sheet()
	if len(names) == 0 {
		b.say("That point lies on no crossing of the grid that was found: click one of the rings.")
		return
	}
	square, told := l.SquareM(names)
	if !told {
		square = usualSquareM
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
		words += " The meshes are no squares: these may be lines of latitude and longitude, and then this is wrong."
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
	if err != nil || len(g.offer.Crossings) == len(g.found.Crossings) {
		return all, err
	}
	offered := map[[2]int]bool{}
	for _, c := range g.offer.Crossings {
		offered[[2]int{c.I, c.J}] = true
	}
	var out []calib.ControlPoint
	for i, c := range g.found.Crossings { // in the order of all
		if offered[[2]int{c.I, c.J}] {
			out = append(out, all[i])
		}
	}
	return out, nil
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

// pulled moves a clicked place onto the crossing of the printed grid that it
// was meant for, where one was found: within a dozen pixels, or what the
// pointer can hit at the present zoom.
func (g *printedGrid) pulled(at view.PicPt, sigmaPx float64) view.PicPt {
	if g.found == nil {
		return at
	}
	c, ok := g.found.Nearest(picturePt(at))
	if !ok || math.Hypot(c.Col-at.X, c.Row-at.Y) > max(12, 8*sigmaPx) {
		return at
	}
	return view.PicPt{X: c.Col, Y: c.Row}
}
