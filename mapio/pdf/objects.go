package pdf

import (
	"math"
	"strconv"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

const (
	maxEntries = 4096    // of an array that is read
	maxText    = 1 << 16 // bytes of a text that is read
)

// The readers of this file give ok false for whatever is not what was asked
// for; references are followed.

func (d *dictionary) dict(o types.Object) (types.Dict, bool) {
	o, err := d.table.Dereference(o)
	if err != nil {
		return nil, false
	}
	v, ok := o.(types.Dict)
	return v, ok
}

func (d *dictionary) array(o types.Object) (types.Array, bool) {
	o, err := d.table.Dereference(o)
	if err != nil {
		return nil, false
	}
	v, ok := o.(types.Array)
	return v, ok && len(v) <= maxEntries
}

// number reads a finite number, also one that is written as a text: the OGC's
// practice keeps figures in strings for the sake of their digits.
func (d *dictionary) number(o types.Object) (float64, bool) {
	o, err := d.table.Dereference(o)
	if err != nil {
		return 0, false
	}
	var v float64
	switch n := o.(type) {
	case types.Integer:
		v = float64(n)
	case types.Float:
		v = float64(n)
	default:
		text, ok := d.text(o)
		if !ok {
			return 0, false
		}
		if v, err = strconv.ParseFloat(strings.TrimSpace(text), 64); err != nil {
			return 0, false
		}
	}
	return v, !math.IsNaN(v) && math.Abs(v) < 1e12
}

// numbers reads an array of nothing but numbers.
func (d *dictionary) numbers(o types.Object) ([]float64, bool) {
	a, ok := d.array(o)
	if !ok {
		return nil, false
	}
	out := make([]float64, len(a))
	for i := range a {
		if out[i], ok = d.number(a[i]); !ok {
			return nil, false
		}
	}
	return out, true
}

func (d *dictionary) text(o types.Object) (string, bool) {
	o, err := d.table.Dereference(o)
	if err != nil {
		return "", false
	}
	switch o.(type) {
	case types.StringLiteral, types.HexLiteral:
		s, err := d.table.DereferenceText(o)
		return s, err == nil && len(s) <= maxText
	}
	return "", false
}

func (d *dictionary) name(o types.Object) string {
	o, err := d.table.Dereference(o)
	if err != nil {
		return ""
	}
	n, _ := o.(types.Name)
	return string(n)
}

// word reads a name or a text.
func (d *dictionary) word(o types.Object) string {
	if n := d.name(o); n != "" {
		return n
	}
	s, _ := d.text(o)
	return s
}
