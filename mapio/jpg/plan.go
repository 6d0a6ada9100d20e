package jpg

import "fmt"

// scanPlan is one scan: its components and the grid of its units.
type scanPlan struct {
	parts        []part
	perRow, rows int
	unitRows     int // picture rows of a unit
	// of progressive scans: the range of coefficients in coded order, and
	// the bits before and now (T.81, G.1.1.1).
	first, last int
	high, low   uint
}

// part is a component in a scan.
type part struct {
	*component
	coder
	across, down int // blocks of a unit
}

// plan reads a scan header (T.81, B.2.3).
func (d *decoder) plan(b []byte) (*scanPlan, error) {
	f := d.frame
	n := 0
	if len(b) > 0 {
		n = int(b[0])
	}
	if n < 1 || n > len(f.comps) || len(b) < 1+2*n {
		return nil, ErrDamaged
	}
	p := &scanPlan{last: 63}
	if f.kind == 0xc2 {
		if len(b) < 4+2*n {
			return nil, ErrDamaged
		}
		s := b[1+2*n:]
		p.first, p.last, p.high, p.low = int(s[0]), int(s[1]), uint(s[2]>>4), uint(s[2]&15)
		if p.first > p.last || p.last > 63 || p.low > 13 || (p.first == 0) != (p.last == 0) || p.first > 0 && n > 1 {
			return nil, ErrDamaged
		}
	}
	for i := range n {
		t, err := d.part(b[1+2*i], b[2+2*i], p)
		if err != nil {
			return nil, err
		}
		p.parts = append(p.parts, t)
	}
	p.grid(f)
	return p, nil
}

func (d *decoder) part(id, tables byte, p *scanPlan) (part, error) {
	for _, c := range d.frame.comps {
		if c.id != id {
			continue
		}
		for _, t := range p.parts {
			if t.component == c {
				return part{}, ErrDamaged
			}
		}
		dc, ac := tables>>4, tables&15
		if dc > 3 || ac > 3 {
			return part{}, ErrDamaged
		}
		t := part{component: c, coder: coder{dc: d.dc[dc], ac: d.ac[ac], z: d.z}, across: int(c.h), down: int(c.v)}
		needDC, needAC := p.first == 0 && p.high == 0, p.last > 0
		if needDC && t.dc == nil || needAC && t.ac == nil {
			return part{}, fmt.Errorf("%w: a Huffman table is missing", ErrDamaged)
		}
		if q := d.q[c.tq]; q != nil {
			t.q = *q
		} else if !d.check && d.frame.kind != 0xc2 {
			return part{}, fmt.Errorf("%w: a quantization table is missing", ErrDamaged)
		}
		return t, nil
	}
	return part{}, ErrDamaged
}

func (p *scanPlan) grid(f *frame) {
	if len(p.parts) > 1 {
		p.perRow, p.rows, p.unitRows = up(f.w, 8*f.hmax), up(f.h, 8*f.vmax), 8*f.vmax
		return
	}
	t := &p.parts[0] // alone, a component has one block a unit
	t.across, t.down = 1, 1
	p.perRow, p.rows, p.unitRows = t.perRow, t.rows, 8*f.vmax/int(t.v)
}
