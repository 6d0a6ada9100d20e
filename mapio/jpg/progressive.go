package jpg

import (
	"context"
	"errors"
	"fmt"
	"sync"
)

// progressive decodes one scan of a progressive picture (T.81, annex G).
func (d *decoder) progressive(p *scanPlan) error {
	if err := d.pass(p); err != nil {
		return d.in.orEnd(err)
	}
	if !d.in.drained() {
		return ErrDamaged
	}
	if p.first == 0 {
		for _, t := range p.parts {
			t.seen = true
		}
	}
	return nil
}

// pass walks the units of a scan.
func (d *decoder) pass(p *scanPlan) error {
	run := 0 // blocks that are known to be empty from here on
	for row := range p.rows {
		if err := context.Cause(d.ctx); err != nil {
			return err
		}
		for u := range p.perRow {
			if n := row*p.perRow + u; d.interval > 0 && n > 0 && n%d.interval == 0 {
				if err := d.in.restart(0xd0 + byte((n/d.interval-1)%8)); err != nil {
					return err
				}
				run = 0
				for i := range p.parts {
					p.parts[i].pred = 0
				}
			}
			if err := d.passUnit(p, row, u, &run); err != nil {
				return err
			}
		}
		if d.in.over() {
			return d.in.cause()
		}
		if d.opt.Rows != nil {
			d.opt.Rows(min((row+1)*p.unitRows, d.frame.h), d.frame.h)
		}
	}
	return nil
}

func (d *decoder) passUnit(p *scanPlan, row, u int, run *int) (err error) {
	if p.first > 0 {
		t := &p.parts[0]
		at := row*t.acrossUnits + u
		blk := (*[64]int16)(t.coefs[64*at:])
		if p.high == 0 {
			return d.in.acFirst(t, p, blk, &t.lasts[at], run)
		}
		return d.in.acRefine(t, p, blk, &t.lasts[at], run)
	}
	for i := range p.parts {
		t := &p.parts[i]
		for y := range t.down {
			at := (row*t.down+y)*t.acrossUnits + u*t.across
			for x := range t.across {
				dc := &t.coefs[64*(at+x)]
				if p.high > 0 {
					*dc |= int16(d.in.take(1) << p.low)
					continue
				}
				diff, err := d.in.dcDiff(t.dc)
				if err != nil {
					return err
				}
				t.pred += diff
				*dc = int16(t.pred << p.low)
			}
		}
	}
	return nil
}

// acFirst is the first pass over a range of coefficients (T.81, G.1.2.2).
func (b *bits) acFirst(t *part, p *scanPlan, blk *[64]int16, last *uint8, run *int) error {
	if *run > 0 {
		*run--
		return nil
	}
	for k := p.first - 1; k < p.last; {
		if b.have < 32 {
			b.load()
		}
		e := t.ac.step[b.acc>>(64-lookBits)]
		used := uint(e & stepLength)
		if e&(stepMore|stepLong) != 0 {
			if e, used = t.ac.rare(e, b.acc); used == 0 {
				return b.badCode()
			}
		}
		if e>>8&0xff == endOfBlock {
			return b.emptyRun(t.ac, run)
		}
		b.acc <<= used & 63
		b.have -= used
		if k += int(e >> 8 & 0xff); k > p.last {
			return ErrDamaged
		}
		if v := int16(e >> 16); v != 0 {
			blk[t.z[k]&63] = v << p.low
			*last = max(*last, uint8(k))
		}
	}
	return nil
}

// emptyRun decodes how many blocks, this one first, are empty from here on.
func (b *bits) emptyRun(t *huffman, run *int) error {
	sym, err := b.symbol(t)
	if err != nil {
		return err
	}
	r := uint(sym >> 4)
	*run = 1<<r - 1
	if r > 0 {
		*run += int(b.take(r))
	}
	return nil
}

// acRefine adds one bit to the coefficients known so far, and brings in new
// ones (T.81, G.1.2.3).
func (b *bits) acRefine(t *part, p *scanPlan, blk *[64]int16, last *uint8, run *int) error {
	k, bit := p.first, int16(1)<<p.low
	for *run == 0 && k <= p.last {
		sym, err := b.symbol(t.ac)
		if err != nil {
			return err
		}
		skip, v := int(sym>>4), int16(0)
		switch {
		case sym&15 > 1:
			return ErrDamaged
		case sym&15 == 1 && b.take(1) == 1:
			v = bit
		case sym&15 == 1:
			v = -bit
		case skip < 15:
			*run = 1 << skip
			if skip > 0 {
				*run += int(b.take(uint(skip)))
			}
			skip = 64
		}
		if *run > 0 {
			break
		}
		k = b.refine(t, blk, k, p.last, skip, bit)
		if k > p.last {
			if v != 0 {
				return ErrDamaged
			}
			break
		}
		if v != 0 {
			blk[t.z[k]&63] = v
			*last = max(*last, uint8(k))
		}
		k++
	}
	if *run > 0 {
		b.refine(t, blk, k, p.last, 64, bit)
		*run--
	}
	return nil
}

// refine passes over skip coefficients that are zero, adds a bit to those
// between them, and gives the place of the next zero.
func (b *bits) refine(t *part, blk *[64]int16, k, last, skip int, bit int16) int {
	for ; k <= last; k++ {
		c := &blk[t.z[k]&63]
		if *c == 0 {
			if skip == 0 {
				break
			}
			skip--
			continue
		}
		if b.take(1) == 0 {
			continue
		}
		if *c > 0 {
			*c += bit
		} else {
			*c -= bit
		}
	}
	return k
}

// transform makes pixels of all coefficients, on two goroutines.
func (d *decoder) transform() error {
	for _, c := range d.frame.comps {
		q := d.q[c.tq]
		if q == nil {
			return fmt.Errorf("%w: a quantization table is missing", ErrDamaged)
		}
		c.pix = make([]uint8, len(c.coefs))
		var wait sync.WaitGroup
		var broken [2]error
		for half := range 2 {
			wait.Go(func() { broken[half] = d.transformRows(c, q, half) })
		}
		wait.Wait()
		if err := errors.Join(broken[:]...); err != nil {
			return err
		}
		c.coefs, c.lasts = nil, nil
	}
	return context.Cause(d.ctx)
}

func (d *decoder) transformRows(c *component, q *[64]int16, from int) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("%w: %v", ErrPanicked, v)
		}
	}()
	var blk [64]int16
	for y := from; y < c.downUnits; y += 2 {
		if context.Cause(d.ctx) != nil {
			return nil
		}
		for x := range c.acrossUnits {
			i := y*c.acrossUnits + x
			last := int(c.lasts[i])
			coefs := (*[64]int16)(c.coefs[64*i:])
			blk[0] = coefs[0] * q[0]
			for k := 1; k <= last; k++ {
				at := d.z[k&63] & 63
				blk[at] = coefs[at] * q[k&63]
			}
			c.block(&blk, last, x, y, 0)
			if last > 0 {
				blk = [64]int16{}
			}
		}
	}
	return nil
}
