package headless

import (
	"bytes"
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
	if err != nil {
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

// numbers reads the fields of a row into values. It wants from least to
// len(values) of them and returns how many there were. names are the columns.
func numbers(values []float64, least int, line []byte, names string) (count int, err error) {
	for field := range bytes.FieldsSeq(line) {
		if count < len(values) && err == nil {
			values[count], err = parseNumber(field)
		}
		count++
	}
	switch {
	case count == 0:
		return 0, fmt.Errorf("the row has no values: give %s", names)
	case count == 1 && least > 1:
		return 0, fmt.Errorf("the row has 1 value: give %s", names)
	case count < least || count > len(values):
		return 0, fmt.Errorf("the row has %d values: give %s", count, names)
	case err != nil:
		return 0, err
	}
	return count, nil
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
