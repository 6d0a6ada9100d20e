package headless

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// errNoNumber is a field that is not a plain finite decimal number.
var errNoNumber = errors.New("is not a plain number")

// parseNumber reads a finite decimal number with an optional exponent. It
// refuses NaN, infinities, hexadecimal, underscores and what overflows.
func parseNumber(field []byte) (float64, error) {
	if v, ok := plainNumber(field); ok {
		return v, nil
	}
	for _, b := range field {
		switch {
		case b >= '0' && b <= '9', b == '.', b == '-', b == '+', b == 'e', b == 'E':
		default:
			return 0, fmt.Errorf("%s %w", quote(field), errNoNumber)
		}
	}
	v, err := strconv.ParseFloat(string(field), 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%s %w", quote(field), errNoNumber)
	}
	return v, nil
}

// powersOfTen are exact as float64.
var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// plainNumber reads the common case quickly: an optional sign and at most 15
// digits with at most one point among or after them. Digits and power of ten
// are then exact, so their quotient is the nearest float64 (W. D. Clinger, How
// to read floating point numbers accurately, 1990). It reports false for
// everything else, right or wrong.
func plainNumber(field []byte) (float64, bool) {
	digits, negative := field, false
	if len(digits) > 0 && (digits[0] == '-' || digits[0] == '+') {
		negative, digits = digits[0] == '-', digits[1:]
	}
	if len(digits) == 0 || len(digits) > 16 {
		return 0, false
	}
	var whole int64
	point := -1
	for i, b := range digits {
		if b == '.' && point < 0 && i > 0 {
			point = i
			continue
		}
		if b < '0' || b > '9' {
			return 0, false
		}
		whole = whole*10 + int64(b-'0')
	}
	if point < 0 && len(digits) > 15 {
		return 0, false
	}
	v := float64(whole)
	if point >= 0 {
		v /= powersOfTen[len(digits)-1-point]
	}
	if negative {
		v = -v
	}
	return v, true
}

// quote shows a field in a message, cut to a length that can be read.
func quote(field []byte) string {
	const most = 40
	if len(field) > most {
		return strconv.Quote(string(field[:most])) + "…"
	}
	return strconv.Quote(string(field))
}

// splitFields cuts a row at blanks and tabs into dst, up to its capacity, and
// returns how many fields there are in all. It allocates nothing.
func splitFields(dst [][]byte, line []byte) ([][]byte, int) {
	dst = dst[:0]
	count, i := 0, 0
	for i < len(line) {
		for i < len(line) && isBlank(line[i]) {
			i++
		}
		start := i
		for i < len(line) && !isBlank(line[i]) {
			i++
		}
		if i > start {
			count++
			if len(dst) < cap(dst) {
				dst = append(dst, line[start:i])
			}
		}
	}
	return dst, count
}

func isBlank(b byte) bool { return b == ' ' || b == '\t' || b == '\r' || b == '\v' || b == '\f' }

// numbers reads the fields of a row into values. It wants from least to
// len(values) of them and returns how many there were. names are the columns.
func numbers(values []float64, least int, line []byte, names string) (int, error) {
	var store [8][]byte
	fields, count := splitFields(store[:0:len(values)], line)
	if count < least || count > len(values) {
		return 0, fmt.Errorf("the row has %s, want %s", valuesWord(count), names)
	}
	for i, f := range fields {
		v, err := parseNumber(f)
		if err != nil {
			return 0, err
		}
		values[i] = v
	}
	return count, nil
}

func valuesWord(count int) string {
	switch count {
	case 0:
		return "no values"
	case 1:
		return "1 value"
	}
	return strconv.Itoa(count) + " values"
}

// noise is the size below which a result is written 0.
const noise = 1e-15

// appendNumber writes v in full, without an exponent. Package strconv finds
// the digits; its own way of writing them so costs more than finding them.
func appendNumber(dst []byte, v float64) []byte {
	size := math.Abs(v)
	if size < noise {
		return append(dst, '0')
	}
	if !(size < 1e15) {
		return strconv.AppendFloat(dst, v, 'f', -1, 64)
	}
	var store [32]byte
	text := strconv.AppendFloat(store[:0], v, 'e', -1, 64) // -d.ddde±dd
	if text[0] == '-' {
		dst, text = append(dst, '-'), text[1:]
	}
	n := len(text)
	exponent := int(text[n-2]-'0')*10 + int(text[n-1]-'0')
	first, rest := text[0], text[1:n-4]
	if len(rest) > 0 {
		rest = rest[1:] // the point
	}
	if text[n-3] == '-' {
		const zeros = "0.00000000000000000"
		return append(append(append(dst, zeros[:1+exponent]...), first), rest...)
	}
	return appendShifted(append(dst, first), rest, exponent)
}

// appendShifted writes the digits behind the first with the point after so
// many of them.
func appendShifted(dst, digits []byte, before int) []byte {
	if before < len(digits) {
		dst = append(append(dst, digits[:before]...), '.')
		return append(dst, digits[before:]...)
	}
	dst = append(dst, digits...)
	for range before - len(digits) {
		dst = append(dst, '0')
	}
	return dst
}

// appendRow writes values separated by tabs.
func appendRow(dst []byte, values ...float64) []byte {
	for i, v := range values {
		if i > 0 {
			dst = append(dst, '\t')
		}
		dst = appendNumber(dst, v)
	}
	return dst
}
