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

// appendNumber writes v in full, without an exponent.
func appendNumber(dst []byte, v float64) []byte {
	if math.Abs(v) < noise {
		return append(dst, '0')
	}
	return strconv.AppendFloat(dst, v, 'f', -1, 64)
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
