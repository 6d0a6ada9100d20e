package geodesy

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// ErrNotNTv2 is wrapped by the error of a file that is not an NTv2 grid of
// shifts, or a damaged one.
var ErrNotNTv2 = errors.New("not a sound NTv2 file")

// Limits of an NTv2 file.
const (
	maxNTv2Bytes    = 256 << 20
	maxNTv2Grids    = 10_000
	maxNTv2ShiftRad = 1 * math.Pi / 180 // no datum is off by more
)

// NTv2 is a file of datum shifts (National Transformation version 2, Geodetic
// Survey Division, Natural Resources Canada, Developer's Guide): grids of
// latitude and longitude shifts, some of them denser ones inside others. It is
// immutable and safe for concurrent use.
type NTv2 struct {
	from, to string
	grids    []*ntv2Grid
	roots    []*ntv2Grid
}

// From returns the name of the datum the file leads from, as it stands there.
func (n *NTv2) From() string { return n.from }

// To returns the name of the datum the file leads to.
func (n *NTv2) To() string { return n.to }

// ReadNTv2 reads a file of shifts in either byte order. Errors wrap ErrNotNTv2
// or are those of the reader.
func ReadNTv2(r io.Reader) (*NTv2, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxNTv2Bytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxNTv2Bytes {
		return nil, badNTv2("it is longer than %d MB", maxNTv2Bytes>>20)
	}
	d := ntv2Decoder{data: data}
	return d.file()
}

func badNTv2(format string, values ...any) error {
	return fmt.Errorf("%w: %s", ErrNotNTv2, fmt.Sprintf(format, values...))
}

// ntv2Decoder reads records of 16 bytes: eight of name, eight of value.
type ntv2Decoder struct {
	data  []byte
	order binary.ByteOrder
	unit  float64 // radians
}

// record is one name with its value.
type ntv2Record []byte

const ntv2RecordBytes = 16

func (d *ntv2Decoder) records(n int) ([]ntv2Record, error) {
	if len(d.data) < n*ntv2RecordBytes {
		return nil, badNTv2("it ends before its time")
	}
	out := make([]ntv2Record, n)
	for i := range out {
		out[i] = d.data[i*ntv2RecordBytes : (i+1)*ntv2RecordBytes]
	}
	d.data = d.data[n*ntv2RecordBytes:]
	return out, nil
}

func (r ntv2Record) is(name string) bool { return strings.TrimSpace(string(r[:8])) == name }

func (r ntv2Record) text() string { return strings.Trim(string(r[8:]), " \x00") }

func (d *ntv2Decoder) whole(r ntv2Record) int { return int(int32(d.order.Uint32(r[8:]))) }

func (d *ntv2Decoder) number(r ntv2Record) float64 {
	return math.Float64frombits(d.order.Uint64(r[8:]))
}

// file reads the head and all grids.
func (d *ntv2Decoder) file() (*NTv2, error) {
	head, err := d.records(11)
	if err != nil {
		return nil, err
	}
	if err := d.setOrder(head[0]); err != nil {
		return nil, err
	}
	count := d.whole(head[2])
	if !head[1].is("NUM_SREC") || d.whole(head[1]) != 11 || count < 1 || count > maxNTv2Grids {
		return nil, badNTv2("its head does not count its grids")
	}
	if err := d.setUnit(head[3].text()); err != nil {
		return nil, err
	}
	n := &NTv2{from: head[5].text(), to: head[6].text()}
	for i := range count {
		g, err := d.grid()
		if err != nil {
			return nil, fmt.Errorf("grid %d of %d: %w", i+1, count, err)
		}
		n.grids = append(n.grids, g)
	}
	return n, n.plant()
}

func (d *ntv2Decoder) setOrder(first ntv2Record) error {
	if first.is("NUM_OREC") {
		for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
			if order.Uint32(first[8:]) == 11 {
				d.order = order
				return nil
			}
		}
	}
	return badNTv2("it does not begin with NUM_OREC 11")
}

func (d *ntv2Decoder) setUnit(name string) error {
	switch name {
	case "SECONDS":
		d.unit = arcsecond
	case "MINUTES":
		d.unit = 60 * arcsecond
	case "DEGREES":
		d.unit = 3600 * arcsecond
	default:
		return badNTv2("its unit %.8q is not SECONDS, MINUTES or DEGREES", name)
	}
	return nil
}

// plant ties every grid to its parent.
func (n *NTv2) plant() error {
	byName := map[string]*ntv2Grid{}
	for _, g := range n.grids {
		byName[g.name] = g
	}
	for _, g := range n.grids {
		if g.parentName == "NONE" {
			n.roots = append(n.roots, g)
			continue
		}
		parent := byName[g.parentName]
		if parent == nil || parent == g {
			return badNTv2("grid %.8q has no parent %.8q", g.name, g.parentName)
		}
		parent.children = append(parent.children, g)
	}
	if len(n.roots) == 0 {
		return badNTv2("no grid of it stands on its own")
	}
	return nil
}
