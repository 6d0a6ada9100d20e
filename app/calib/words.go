package calib

import (
	"math"
	"strconv"
	"strings"
)

// figure writes a length in whole metres with its thousands apart, such as
// "1 000", or with one decimal below ten metres.
func figure(m float64) string {
	m = math.Abs(m)
	if m < 9.95 {
		return strconv.FormatFloat(m, 'f', 1, 64)
	}
	return grouped(m)
}

// grouped writes a whole number with its thousands apart.
func grouped(v float64) string {
	digits := strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	var b strings.Builder
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String()
}
