package calib

import (
	"math"
	"strconv"
)

// transposed lists what a coordinate in whole metres becomes when two
// neighbouring digits of it change places: a slip of typing.
func transposed(m float64) []float64 {
	digits := []byte(strconv.FormatFloat(math.Abs(math.Round(m)), 'f', 0, 64))
	var out []float64
	for i := range len(digits) - 1 {
		if digits[i] == digits[i+1] {
			continue
		}
		digits[i], digits[i+1] = digits[i+1], digits[i]
		if v, err := strconv.ParseFloat(string(digits), 64); err == nil {
			out = append(out, math.Copysign(v, m)+m-math.Round(m))
		}
		digits[i], digits[i+1] = digits[i+1], digits[i]
	}
	return out
}
