package windowtest

import (
	"fmt"
	"image"
	"image/jpeg"
	"math"
	"os"
	"strconv"
	"strings"

	"legwright/cmd/internal/xdisplay"
)

// blockSide is the side in screen pixels of the blocks that are compared.
const blockSide = 64

// Reference is the luma of a JPEG as another decoder than the bench's reads
// it: image/jpeg of the standard library.
type Reference struct {
	luma   []uint8
	stride int
	size   image.Point
}

// ReadReference decodes a JPEG file.
func ReadReference(file string) (*Reference, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	pic, err := jpeg.Decode(f)
	if err != nil {
		return nil, err
	}
	y, ok := pic.(*image.YCbCr)
	if !ok {
		return nil, fmt.Errorf("%s is a %T, want a JPEG in colour", file, pic)
	}
	return &Reference{y.Y, y.YStride, y.Rect.Size()}, nil
}

// mean is the luma of a pixel of level n: the mean of the pixels it stands
// for at the level before, drawn a quarter towards the darkest of them, as the
// bench makes its levels. A place outside the picture takes the nearest inside.
func (r *Reference) mean(n, x, y int) float64 {
	side := 1 << n
	x, y = min(max(x, 0), (r.size.X-1)/side), min(max(y, 0), (r.size.Y-1)/side)
	if n == 0 {
		return float64(r.luma[y*r.stride+x])
	}
	sum, low := 0.0, 255.0
	for _, d := range [4]image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
		v := r.mean(n-1, 2*x+d.X, 2*y+d.Y) // the last row or column counts twice, which changes neither
		sum, low = sum+v, min(low, v)
	}
	return sum/4 - (sum/4-low)/4
}

// at is level n read between the middles of its pixels, at a picture position.
func (r *Reference) at(n int, col, row float64) float64 {
	u, v := math.Ldexp(col, -n)-0.5, math.Ldexp(row, -n)-0.5
	x, y := math.Floor(u), math.Floor(v)
	fu, fv := u-x, v-y
	i, j := int(x), int(y)
	sum := 0.0
	for _, c := range []struct {
		dx, dy int
		w      float64
	}{{0, 0, (1 - fu) * (1 - fv)}, {1, 0, fu * (1 - fv)}, {0, 1, (1 - fu) * fv}, {1, 1, fu * fv}} {
		if c.w > 1e-9 {
			sum += c.w * r.mean(n, i+c.dx, j+c.dy)
		}
	}
	return sum
}

// Holes compares the sheet's part of a screenshot with the level that must be
// shown there and returns the blocks that are blank, wrong or only as sharp
// as the next coarser level, and how many were compared. The bench shows the
// coarsest level that it need not magnify.
func (r *Reference) Holes(shot image.Image, window image.Point, p xdisplay.Probe) (holes []image.Rectangle, compared int) {
	level := int(max(math.Floor(-math.Log2(math.Hypot(p.View[0], p.View[3]))+1e-9), 0))
	// The edge of the sheet's area is left out: things of the window stand there.
	area := image.Rect(int(p.Sheet.X)+8, int(p.Sheet.Y)+48, int(p.Sheet.X+p.Sheet.W)-8, int(p.Sheet.Y+p.Sheet.H)-48)
	for y := area.Min.Y; y+blockSide <= area.Max.Y; y += blockSide {
		for x := area.Min.X; x+blockSide <= area.Max.X; x += blockSide {
			block := image.Rect(x, y, x+blockSide, y+blockSide)
			if !r.covers(p, block) {
				continue
			}
			compared++
			if !r.agrees(shot, window, p, block, level) {
				holes = append(holes, block)
			}
		}
	}
	return holes, compared
}

// picture is the picture position of the middle of a window pixel, for a
// sheet that stands upright.
func picture(p xdisplay.Probe, x, y int) (col, row float64) {
	return (float64(x) + 0.5 - p.Sheet.X - p.View[2]) / p.View[0], (float64(y) + 0.5 - p.Sheet.Y - p.View[5]) / p.View[4]
}

// covers says whether the block lies on the picture.
func (r *Reference) covers(p xdisplay.Probe, b image.Rectangle) bool {
	c0, r0 := picture(p, b.Min.X, b.Min.Y)
	c1, r1 := picture(p, b.Max.X, b.Max.Y)
	return c0 > 1 && r0 > 1 && c1 < float64(r.size.X)-1 && r1 < float64(r.size.Y)-1
}

// plainRMS is how far, in grey steps, a block without detail may be off: more
// than two decoders and the way to the screen differ, less than a hole.
const plainRMS = 6

// agrees compares one block with its own level and with the next coarser one.
func (r *Reference) agrees(shot image.Image, window image.Point, p xdisplay.Probe, b image.Rectangle, level int) bool {
	var own, coarse, apart float64
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			cr, cg, cb, _ := shot.At(x+window.X, y+window.Y).RGBA()
			seen := (0.299*float64(cr) + 0.587*float64(cg) + 0.114*float64(cb)) / 257
			col, row := picture(p, x, y)
			a, c := r.at(level, col, row), r.at(level+1, col, row)
			own, coarse, apart = own+(seen-a)*(seen-a), coarse+(seen-c)*(seen-c), apart+(a-c)*(a-c)
		}
	}
	const n = blockSide * blockSide
	own, coarse, apart = math.Sqrt(own/n), math.Sqrt(coarse/n), math.Sqrt(apart/n)
	if apart < plainRMS/2 {
		return own < plainRMS
	}
	return own < coarse && own < plainRMS+apart/2
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
