package ui

import (
	"context"
	"fmt"
	"image"
	"math"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2/widget"

	"legwright/app/calib/lattice"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// mostCrossings is how many crossings become control points: more add nothing
// but waiting.
const mostCrossings = 240

// printedGrid is the grid that was found in the picture, until it is taken or
// let go.
type printedGrid struct {
	found  *lattice.Lattice   // all of it
	offer  *lattice.Lattice   // the crossings that become control points
	drawn  overlay.Found      // how they are shown
	cancel context.CancelFunc // of the search under way, or nil
	doing  string             // how far that is, in words
	choice *widget.Select     // of the side of a square, while it is asked
}

func (g *printedGrid) forget() {
	if g.cancel != nil {
		g.cancel()
	}
	*g = printedGrid{}
}

// findPrintedGrid looks for the printed grid away from the window. What is
// found is shown, and waits to be taken, held against the file, or let go.
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
	b.say(fmt.Sprintf("A grid with %d intersections was found: is it the printed one?", len(l.Crossings)))
	b.sheetP.refresh()
	b.refreshAll()
	if !b.sheetP.on { // else a reference is being typed
		b.focusSheet()
	}
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
		return "Look closely: do the blue dashes lie on the printed lines? " + g.seenWords() + " Then use the intersections; else discard the grid  (Esc)."
	}
	if g.found.Oblong {
		return "Look closely: do the blue dashes lie on the printed lines? Their squares are oblong: they may be lines of latitude and longitude. " +
			"Then click one intersection and type what the margin says of it, such as 56°10'N 6°20'W. Else discard the grid  (Esc)."
	}
	return "Look closely: do the blue dashes lie on the printed lines? " + g.seenWords() +
		" Then click one intersection and type its reference: the others follow. Else discard the grid  (Esc)."
}

// seenWords counts the crossings by how well they are seen.
func (g *printedGrid) seenWords() string {
	var n [3]int
	for _, c := range g.drawn.Crossings {
		n[c.Seen]++
	}
	text := fmt.Sprintf("Of %d intersections %d are well seen (closed rings)", len(g.drawn.Crossings), n[overlay.WellSeen])
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
	words := "The grid found is discarded."
	if g.cancel != nil {
		words = "Cancelled: the search for the printed grid has stopped."
	}
	g.forget()
	b.sheetP.refresh()
	b.refreshAll()
	b.say(words)
	return true
}

// searched reads the picture as it is, without contrast, fade or inversion,
// in grey and reduced k times where it is large.
func searched(ctx context.Context, p *pyramid.Pyramid) (m *image.Gray, k int) {
	return lattice.Reduced(ctx, p.Size(), func(r image.Rectangle) image.Image { return p.Crop(r) })
}

// pulled moves a clicked place onto the crossing of the printed grid that it
// was meant for, where one was found: within a dozen pixels, or what the
// pointer can hit at the present zoom.
func (g *printedGrid) pulled(at view.PicPt, sigmaPx float64) view.PicPt {
	if g.found == nil {
		return at
	}
	c, ok := g.found.Nearest(sheetview.PicturePt(at))
	if !ok || math.Hypot(c.Col-at.X, c.Row-at.Y) > max(12, 8*sigmaPx) {
		return at
	}
	return view.PicPt{X: c.Col, Y: c.Row}
}
