package jpg

import "context"

// sequential decodes one sequential scan, a row of units at a time.
func (d *decoder) sequential(p *scanPlan) error {
	pipe := d.newPipe(p)
	row, err := d.unitRows(p, pipe)
	if broken := pipe.close(); broken != nil {
		return broken
	}
	if err != nil {
		d.rep.Rows = min(d.rep.Rows, row*p.unitRows)
		return err
	}
	for _, t := range p.parts {
		t.seen = true
	}
	if d.frame.allSeen() {
		d.giveSmall()
	}
	if !d.in.drained() {
		return errDamaged
	}
	return nil
}

// unitRows gives the number of rows of units that came whole.
func (d *decoder) unitRows(p *scanPlan, pipe *pipe) (row int, err error) {
	for row = range p.rows {
		if err := context.Cause(d.ctx); err != nil {
			return row, err
		}
		b := pipe.next(row)
		for u := range p.perRow {
			if err = d.unit(p, b, row*p.perRow+u, u); err != nil {
				break
			}
		}
		b.cut = err != nil
		pipe.send(b)
		if err != nil {
			return row, err
		}
		if d.opt.Rows != nil {
			d.opt.Rows(min((row+1)*p.unitRows, d.frame.h), d.frame.h)
		}
	}
	return p.rows, nil
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
