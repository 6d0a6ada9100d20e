package scan

import (
	"errors"
	"io"
)

// The fast JPEG decoder paints over damage without a word, and a picture
// whose blocks have slipped is a map with its ground in the wrong place. So
// the coded data is walked through a second time, on a goroutine beside the
// decoder and without making pixels (ITU-T T.81, annexes B, C and F): every
// code must exist, every block must fill, and the data must last exactly to
// the last block.

// jpegVerdict is what the walk found.
type jpegVerdict struct {
	rows    int  // picture rows that the data reaches, whole blocks
	ended   bool // the end mark came
	damaged bool // the data contradicts itself
}

func (v jpegVerdict) sound() bool { return v.ended && !v.damaged }

// errDamaged ends the walk at a contradiction; io errors end it too.
var errDamaged = errors.New("contradiction in the data")

type component struct {
	id, h, v byte
	dc, ac   byte
}

type jpegCheck struct {
	in       bitReader
	w, h     int
	comps    []component
	dc, ac   [4]*huffman
	interval int
	rows     int
	skip     bool // not sequential Huffman: only the markers are looked at
}

// checkJPEG walks a JPEG to its end mark. The error is one of reading other
// than the end of the file.
func checkJPEG(r io.Reader) (jpegVerdict, error) {
	c := jpegCheck{in: bitReader{r: r, buf: make([]byte, 256<<10)}}
	err := c.walk()
	v := jpegVerdict{rows: c.rows, ended: err == nil, damaged: errors.Is(err, errDamaged)}
	if err == nil || v.damaged || errors.Is(err, io.ErrUnexpectedEOF) {
		err = nil
	}
	return v, err
}

// walk returns nil at the end mark.
func (c *jpegCheck) walk() error {
	c.rows = -1
	for {
		m, err := c.in.nextMarker()
		if err != nil {
			return err
		}
		switch {
		case m == 0xd9:
			return nil
		case m == 0xd8 || m == 0x01 || m >= 0xd0 && m <= 0xd7:
			continue
		}
		body, err := c.in.segment()
		if err != nil {
			return err
		}
		if err := c.segment(m, body); err != nil {
			return err
		}
	}
}

func (c *jpegCheck) segment(m byte, b []byte) error {
	switch m {
	case 0xc4:
		return c.tables(b)
	case 0xdd:
		if len(b) < 2 {
			return errDamaged
		}
		c.interval = int(b[0])<<8 | int(b[1])
	case 0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf:
		c.skip = m > 0xc1
		return c.frame(b)
	case 0xda:
		if c.skip {
			return c.in.skipScan()
		}
		return c.scan(b)
	}
	return nil
}

func (c *jpegCheck) frame(b []byte) error {
	if len(b) < 6 || len(b) < 6+3*int(b[5]) || b[5] < 1 || b[5] > 4 {
		return errDamaged
	}
	c.h, c.w = int(b[1])<<8|int(b[2]), int(b[3])<<8|int(b[4])
	c.rows = c.h
	c.comps = nil
	for i := range int(b[5]) {
		f := b[6+3*i:]
		k := component{id: f[0], h: f[1] >> 4, v: f[1] & 15}
		if k.h < 1 || k.h > 4 || k.v < 1 || k.v > 4 {
			return errDamaged
		}
		c.comps = append(c.comps, k)
	}
	if c.w == 0 || c.h == 0 {
		return errDamaged
	}
	return nil
}

func (c *jpegCheck) tables(b []byte) error {
	for len(b) >= 17 {
		t, used := newHuffman(b[1:])
		if t == nil || b[0]&15 > 3 || b[0]>>4 > 1 {
			return errDamaged
		}
		if b[0]>>4 == 0 {
			c.dc[b[0]&15] = t
		} else {
			c.ac[b[0]&15] = t
		}
		b = b[1+used:]
	}
	if len(b) != 0 {
		return errDamaged
	}
	return nil
}

// scanPlan is one scan: its components with the blocks of each in a unit, and
// the units in a row and in the scan.
type scanPlan struct {
	comps     []component
	blocks    []int
	perRow, n int
	unitRows  int // picture rows of a unit
}

func (c *jpegCheck) plan(b []byte) (scanPlan, error) {
	if len(b) < 1 || len(b) < 1+2*int(b[0]) || b[0] < 1 || int(b[0]) > len(c.comps) {
		return scanPlan{}, errDamaged
	}
	var p scanPlan
	for i := range int(b[0]) {
		k, ok := c.component(b[1+2*i])
		k.dc, k.ac = b[2+2*i]>>4, b[2+2*i]&15
		if !ok || k.dc > 3 || k.ac > 3 || c.dc[k.dc] == nil || c.ac[k.ac] == nil {
			return p, errDamaged
		}
		p.comps = append(p.comps, k)
		p.blocks = append(p.blocks, int(k.h)*int(k.v))
	}
	hm, vm := 1, 1
	for _, k := range c.comps {
		hm, vm = max(hm, int(k.h)), max(vm, int(k.v))
	}
	rows := 0
	if len(p.comps) > 1 {
		p.perRow, rows, p.unitRows = up(c.w, 8*hm), up(c.h, 8*vm), 8*vm
	} else { // alone, a component has one block a unit
		k := p.comps[0]
		p.blocks[0] = 1
		p.perRow, rows = up(up(c.w*int(k.h), hm), 8), up(up(c.h*int(k.v), vm), 8)
		p.unitRows = 8 * vm / int(k.v)
	}
	p.n = p.perRow * rows
	return p, nil
}

func up(a, b int) int { return (a + b - 1) / b }

func (c *jpegCheck) component(id byte) (component, bool) {
	for _, k := range c.comps {
		if k.id == id {
			return k, true
		}
	}
	return component{}, false
}

// scan walks the blocks of one sequential scan.
func (c *jpegCheck) scan(b []byte) error {
	p, err := c.plan(b)
	if err != nil {
		c.rows = 0
		return err
	}
	c.in.startScan()
	restart := byte(0)
	for u := range p.n {
		if c.interval > 0 && u > 0 && u%c.interval == 0 {
			err = c.in.restart(0xd0 + restart)
			restart = (restart + 1) % 8
		}
		if err == nil {
			err = c.unit(p)
		}
		if err != nil {
			c.rows = min(c.rows, u/p.perRow*p.unitRows)
			return err
		}
	}
	if !c.in.drained() {
		return errDamaged
	}
	return nil
}

func (c *jpegCheck) unit(p scanPlan) error {
	for i, k := range p.comps {
		dc, ac := c.dc[k.dc], c.ac[k.ac]
		for range p.blocks[i] {
			if err := c.in.block(dc, ac); err != nil {
				return err
			}
		}
	}
	return nil
}
