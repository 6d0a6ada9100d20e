package pdf

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
)

const (
	maxEntries = 4096    // of an array that is read
	maxText    = 1 << 16 // bytes of a text that is read
)

// The readers of this file give ok false for whatever is not what was asked
// for; references are followed.

func (d *dictionary) dict(o object) (dictObject, bool) {
	v, ok := d.resolve(o).(dictObject)
	return v, ok
}

func (d *dictionary) array(o object) (arrayObject, bool) {
	v, ok := d.resolve(o).(arrayObject)
	return v, ok && len(v) <= maxEntries
}

// number reads a finite number, also one that is written as a text: the OGC's
// practice keeps figures in strings for the sake of their digits.
func (d *dictionary) number(o object) (float64, bool) {
	var v float64
	switch n := d.resolve(o).(type) {
	case int64:
		v = float64(n)
	case float64:
		v = n
	case textObject:
		var err error
		if v, err = strconv.ParseFloat(strings.TrimSpace(n.words()), 64); err != nil {
			return 0, false
		}
	default:
		return 0, false
	}
	return v, !math.IsNaN(v) && math.Abs(v) < 1e12
}

// numbers reads an array of nothing but numbers.
func (d *dictionary) numbers(o object) ([]float64, bool) {
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

func (d *dictionary) text(o object) (string, bool) {
	t, ok := d.resolve(o).(textObject)
	if !ok || len(t) > maxText {
		return "", false
	}
	return t.words(), true
}

// words is a text in Unicode: it is UTF-16 or UTF-8 where it says so, and else
// in an encoding of bytes that is close to Latin-1 (ISO 32000-2, 7.9.2.2).
func (t textObject) words() string {
	if rest, ok := strings.CutPrefix(string(t), "\xfe\xff"); ok {
		units := make([]uint16, len(rest)/2)
		for i := range units {
			units[i] = uint16(rest[2*i])<<8 | uint16(rest[2*i+1])
		}
		return string(utf16.Decode(units))
	}
	if rest, ok := strings.CutPrefix(string(t), "\xef\xbb\xbf"); ok {
		return rest
	}
	runes := make([]rune, len(t))
	for i := range len(t) {
		runes[i] = rune(t[i])
	}
	return string(runes)
}

func (d *dictionary) name(o object) string {
	n, _ := d.resolve(o).(nameObject)
	return string(n)
}

// word reads a name or a text.
func (d *dictionary) word(o object) string {
	if n := d.name(o); n != "" {
		return n
	}
	s, _ := d.text(o)
	return s
}
