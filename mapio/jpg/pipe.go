package jpg

import (
	"fmt"
	"sync"
)

// bands is how many rows of units are under way between the goroutine that
// decodes codes and the one that makes pixels.
const bands = 4

// band is one row of units, as coefficients.
type band struct {
	row    int
	strips []strip
}

// strip is the blocks of one component in a band. All coefficients are zero
// between two uses.
type strip struct {
	perRow, down int
	coefs        []int16
	lasts        []uint8
}

// pipe makes pixels of bands on a goroutine of its own; the one that decodes
// codes helps whenever it is ahead, so that both always have work.
type pipe struct {
	d    *decoder
	p    *scanPlan
	free chan *band
	work chan *band
	done chan struct{}

	mu     sync.Mutex
	broken error
	whole  int          // bands from the top that have their pixels
	ahead  map[int]bool // bands below those that have them
}

func (d *decoder) newPipe(p *scanPlan) *pipe {
	q := &pipe{d: d, p: p, free: make(chan *band, bands), work: make(chan *band, bands), done: make(chan struct{}), ahead: map[int]bool{}}
	for range bands {
		q.free <- newBand(p)
		if d.check {
			break // nothing is made of it, one is enough
		}
	}
	go func() {
		defer close(q.done)
		for b := range q.work {
			q.pixels(b)
			q.free <- b
		}
	}()
	return q
}

func newBand(p *scanPlan) *band {
	b := &band{}
	for i := range p.parts {
		t := &p.parts[i]
		s := strip{perRow: t.across * p.perRow, down: t.down}
		s.coefs = make([]int16, 64*s.perRow*s.down)
		s.lasts = make([]uint8, s.perRow*s.down)
		b.strips = append(b.strips, s)
	}
	return b
}

// next gives a band to fill.
func (q *pipe) next(row int) *band {
	var b *band
	select {
	case b = <-q.free:
	default:
		select {
		case b = <-q.free:
		case b = <-q.work:
			q.pixels(b)
		}
	}
	b.row = row
	return b
}

func (q *pipe) send(b *band) { q.work <- b }

// close finishes what is under way.
func (q *pipe) close() error {
	close(q.work)
	for b := range q.work {
		q.pixels(b)
	}
	<-q.done
	return q.broken
}

// pixels contains a panic: on a goroutine of ours it would end the program.
func (q *pipe) pixels(b *band) {
	defer func() {
		if v := recover(); v != nil {
			q.mu.Lock()
			q.broken = fmt.Errorf("%w: %v", ErrPanicked, v)
			q.mu.Unlock()
		}
	}()
	if q.d.check {
		return
	}
	for i := range b.strips {
		q.strip(&b.strips[i], q.p.parts[i].component, b.row)
	}
	q.came(b.row)
}

// came notes that a band has its pixels: two goroutines make them, and a band
// may be ready before the one above it.
func (q *pipe) came(row int) {
	if q.d.opt.Pixels == nil {
		return
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	q.ahead[row] = true
	for ; q.ahead[q.whole]; q.whole++ {
		delete(q.ahead, q.whole)
	}
	q.d.opt.Pixels(min(q.whole*q.p.unitRows, q.d.frame.h))
}

// strip makes the pixels of a strip, and zeros of its coefficients.
func (q *pipe) strip(s *strip, c *component, row int) {
	for y := range s.down {
		at := row*s.down + y
		if at >= c.downUnits {
			return
		}
		for x := range s.perRow {
			i := y*s.perRow + x
			blk := (*[64]int16)(s.coefs[64*i:])
			c.block(blk, int(s.lasts[i]), x, at, q.d.opt.Level)
			if s.lasts[i] > 0 {
				*blk = [64]int16{}
			} else {
				blk[0] = 0
			}
			s.lasts[i] = 0
		}
		c.shrink(at, q.d.opt.Level)
	}
}

// block makes the pixels of the block at column x, row y of blocks.
func (c *component) block(blk *[64]int16, last, x, y, level int) {
	if level == 3 {
		c.small[y*c.smallStride+x] = mean(blk[0])
	}
	if c.pix != nil {
		inverse(blk, last, c.pix[8*(y*c.stride+x):], c.stride)
	}
}

// shrink makes the part of the small picture that lies in a row of blocks,
// for the levels below 3.
func (c *component) shrink(y, level int) {
	if level == 0 || level == 3 || c.pix == nil {
		return
	}
	side := 1 << level
	for r := 0; r < 8; r += side {
		src := c.pix[(8*y+r)*c.stride:]
		dst := c.small[((8*y+r)>>level)*c.smallStride:][:c.smallStride]
		if side == 2 {
			halve(dst, src[:c.stride], src[c.stride:][:c.stride])
		} else {
			quarter(dst, src, c.stride)
		}
	}
}

func halve(dst, a, b []uint8) {
	for x := range dst {
		p, q := a[2*x:2*x+2:2*x+2], b[2*x:2*x+2:2*x+2]
		dst[x] = uint8((int(p[0]) + int(p[1]) + int(q[0]) + int(q[1]) + 2) >> 2)
	}
}

func quarter(dst, src []uint8, stride int) {
	for x := range dst {
		n := 8
		for y := range 4 {
			p := (*[4]uint8)(src[y*stride+4*x:])
			n += int(p[0]) + int(p[1]) + int(p[2]) + int(p[3])
		}
		dst[x] = uint8(n >> 4)
	}
}
