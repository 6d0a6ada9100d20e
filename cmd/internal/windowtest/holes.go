package windowtest

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	"legwright/cmd/internal/xdisplay"
)

// blockSide is the side in screen pixels of the blocks that are compared.
const blockSide = 64

// Holes compares the sheet's part of a screenshot with what must be shown
// there and returns the blocks that are blank, wrong or only as sharp as the
// next coarser level, and how many were compared.
func (r *Reference) Holes(shot image.Image, window image.Point, p xdisplay.Probe) (holes []image.Rectangle, compared int) {
	for _, b := range r.blocks(p) {
		compared++
		if !r.compare(shot, window, p, b).whole() {
			holes = append(holes, b)
		}
	}
	return holes, compared
}

// blocks are those of the window that lie on the picture. The edge of the
// sheet's area is left out: things of the window stand there.
func (r *Reference) blocks(p xdisplay.Probe) (list []image.Rectangle) {
	area := image.Rect(int(p.Sheet.X)+8, int(p.Sheet.Y)+48, int(p.Sheet.X+p.Sheet.W)-8, int(p.Sheet.Y+p.Sheet.H)-48)
	for y := area.Min.Y; y+blockSide <= area.Max.Y; y += blockSide {
		for x := area.Min.X; x+blockSide <= area.Max.X; x += blockSide {
			if b := image.Rect(x, y, x+blockSide, y+blockSide); r.covers(p, b) {
				list = append(list, b)
			}
		}
	}
	return list
}

// likeness is how far a block of the screen is from what must be drawn there
// and from the same drawn one level coarser, and these two from each other:
// root mean squares, grey steps.
type likeness struct{ own, coarse, apart float64 }

const (
	// mostRMS is how far a block may be off. That two decoders, colours in
	// whole steps and the graphics side's weights differ came to 0.56 at most
	// in 1,408 blocks at eight scales of a sheet of 192 megapixels.
	mostRMS = 1
	// leastApart is how far two levels must differ for a block to be asked
	// which of them it is nearer to.
	leastApart = 0.3
)

// whole says whether the block shows what it must.
func (l likeness) whole() bool {
	return l.own < mostRMS && (l.apart < leastApart || l.own < l.coarse)
}

func (r *Reference) compare(shot image.Image, window image.Point, p xdisplay.Probe, b image.Rectangle) likeness {
	level := levelShown(p, len(r.levels))
	own, coarse := r.drawn(p, b, level), r.drawn(p, b, min(level+1, len(r.levels)-1))
	var l likeness
	for i, a := range own {
		at := b.Min.Add(window).Add(image.Pt(i%blockSide, i/blockSide))
		seen, c := lumaOf(shot.At(at.X, at.Y)), coarse[i]
		l.own, l.coarse, l.apart = l.own+(seen-a)*(seen-a), l.coarse+(seen-c)*(seen-c), l.apart+(a-c)*(a-c)
	}
	n := float64(len(own))
	return likeness{math.Sqrt(l.own / n), math.Sqrt(l.coarse / n), math.Sqrt(l.apart / n)}
}

// lumaOf is the luma of a colour as JPEG counts it (ITU-T T.871), 0 to 255.
func lumaOf(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return (0.299*float64(r) + 0.587*float64(g) + 0.114*float64(b)) / 257
}

// LookForHoles compares what the window shows now with the reference.
func (r *Rig) LookForHoles(ref *Reference) (holes []image.Rectangle, compared int, err error) {
	at, err := r.place() // and the pointer is off the sheet
	if err != nil {
		return nil, 0, err
	}
	p, err := r.settled()
	if err != nil {
		return nil, 0, err
	}
	shot, err := r.display.Picture()
	if err != nil {
		return nil, 0, err
	}
	holes, compared = ref.Holes(shot, at, p)
	return holes, compared, nil
}

// settled waits until the sheet is sharp and has stood still for a while.
func (r *Rig) settled() (xdisplay.Probe, error) {
	var last [6]float64
	still := 0
	p, err := r.State("a sheet at rest", func(p xdisplay.Probe) bool {
		if still++; !p.Sharp || p.View != last {
			still = 0
		}
		last = p.View
		return still >= 15 // of 40 ms
	})
	return p, err
}

// place is where the window's content lies on the display. The window
// manager's frame is counted twice by some of the ways to ask, so the mouse is
// sent to the corner and asked where it is.
func (r *Rig) place() (image.Point, error) {
	if err := r.MoveTo(0, 0); err != nil {
		return image.Point{}, err
	}
	text, err := r.display.Tool(r.ctx, "getmouselocation", "--shell")
	var at image.Point
	for _, line := range strings.Fields(text) {
		name, value, _ := strings.Cut(line, "=")
		n, _ := strconv.Atoi(value)
		switch name {
		case "X":
			at.X = n
		case "Y":
			at.Y = n
		}
	}
	return at, err
}

// Pan drags the sheet with the middle button by so many pixels, from the
// middle of its area, in quick steps.
func (r *Rig) Pan(p xdisplay.Probe, dx, dy float64) error {
	x, y := p.Sheet.Centre()
	if err := r.MoveTo(float64(x)-dx/2, float64(y)-dy/2); err != nil {
		return err
	}
	if err := r.button("mousedown", "2"); err != nil {
		return err
	}
	const steps = 8
	for i := 1; i <= steps; i++ {
		f := float64(i)/steps - 0.5
		if err := r.MoveTo(float64(x)+f*dx, float64(y)+f*dy); err != nil {
			return err
		}
	}
	return r.button("mouseup", "2")
}

// Found is what a look at the window came to.
type Found struct {
	Compared int // blocks
	Holes    []string
}

// Tour pans over a sheet at its own size and at about a third of it, each time
// from the middle, and looks for holes when the sheet has come to rest.
func (r *Rig) Tour(ref *Reference) (Found, error) {
	var f Found
	for _, leg := range []struct {
		wheel, times int
		dx, dy       float64
	}{{0, 3, -560, -330}, {-5, 1, 300, 200}, {0, 4, 420, 330}, {-2, 2, -400, 300}} {
		if err := r.Key("ctrl+0", "ctrl+shift+0"); err != nil {
			return f, err
		}
		p, err := r.settled()
		if err != nil {
			return f, err
		}
		if err := r.stretch(p, leg.wheel, leg.times, leg.dx, leg.dy); err != nil {
			return f, err
		}
		holes, compared, err := r.LookForHoles(ref)
		if err != nil {
			return f, err
		}
		f.Compared += compared
		for _, h := range holes {
			f.Holes = append(f.Holes, fmt.Sprintf("%v after %+v", h, leg))
		}
	}
	return f, nil
}

// stretch turns the wheel in the middle of the sheet and pans.
func (r *Rig) stretch(p xdisplay.Probe, wheel, times int, dx, dy float64) error {
	x, y := p.Sheet.Centre()
	if err := r.MoveTo(float64(x), float64(y)); err != nil {
		return err
	}
	if err := r.Wheel(wheel); err != nil {
		return err
	}
	for range times {
		if err := r.Pan(p, dx, dy); err != nil {
			return err
		}
	}
	return nil
}
