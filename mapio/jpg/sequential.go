package jpg

import (
	"cmp"
	"context"
)

// sequential decodes one sequential scan, a row of units at a time.
func (d *decoder) sequential(p *scanPlan) error {
	if err := d.unitRows(p); err != nil {
		return d.in.orEnd(err)
	}
	if !d.in.drained() {
		return ErrDamaged
	}
	for _, t := range p.parts {
		t.seen = true
	}
	if d.frame.allSeen() {
		d.giveSmall()
	}
	return nil
}

// unitRows decodes the rows of units. After it returns, even by a panic, nothing
// writes to the planes.
func (d *decoder) unitRows(p *scanPlan) (err error) {
	pipe := d.newPipe(p)
	defer func() { err = cmp.Or(pipe.close(), err) }()
	for row := range p.rows {
		if err := context.Cause(d.ctx); err != nil {
			return err
		}
		b := pipe.next(row)
		for u := range p.perRow {
			if err := d.unit(p, b, row*p.perRow+u, u); err != nil {
				return err
			}
		}
		pipe.send(b)
		if d.opt.Rows != nil {
			d.opt.Rows(min((row+1)*p.unitRows, d.frame.h), d.frame.h)
		}
	}
	return nil
}

// unit decodes the n-th unit of the scan, the u-th of its row.
func (d *decoder) unit(p *scanPlan, b *band, n, u int) error {
	if d.interval > 0 && n > 0 && n%d.interval == 0 {
		if err := d.in.restart(0xd0 + byte((n/d.interval-1)%8)); err != nil {
			return err
		}
		for i := range p.parts {
			p.parts[i].pred = 0
		}
	}
	for i := range p.parts {
		t := &p.parts[i]
		s := &b.strips[i]
		for y := range t.down {
			at := y*s.perRow + u*t.across
			for range t.across {
				last, err := d.in.block(&t.coder, (*[64]int16)(s.coefs[64*at:]))
				if err != nil {
					return err
				}
				s.lasts[at] = uint8(last)
				at++
			}
		}
	}
	if d.in.over() {
		return d.in.cause()
	}
	return nil
}
