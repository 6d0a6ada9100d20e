package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Place returns the decimal place to which a figure with standard deviation
// sigma is shown: the exponent of the largest power of ten not above 2σ. A
// sigma that is zero or not finite gives fallback.
func Place(sigma float64, fallback int) int {
	if !isFinite(sigma) || sigma <= 0 {
		return fallback
	}
	return int(math.Floor(math.Log10(2*sigma) + 1e-12))
}

// roundTo writes v rounded to the decimal place given by its exponent.
func roundTo(v float64, place int) string {
	if place >= 0 {
		p := math.Pow(10, float64(place))
		return fmt.Sprintf("%.0f", math.Round(v/p)*p)
	}
	return fmt.Sprintf("%.*f", -place, v)
}

// Metres writes a length with its 95% half width, both to the place that the
// uncertainty supports, such as "1 240 m ± 20". Lengths of 10 km and more are
// still written in metres grouped by thousands. A sigma of zero or below
// writes the length to the metre alone.
func Metres(m, sigma float64) string {
	if !isFinite(m) {
		return "no length"
	}
	if !isFinite(sigma) || sigma <= 0 {
		return group(roundTo(m, 0)) + " m"
	}
	figure, half := rounded(m, sigma, -1)
	return figure + " m ± " + half
}

// Count writes a number of things, such as paces, with its 95% half width, both
// to the place that the uncertainty supports and no finer than whole ones: "230
// ± 50". A sigma of zero or below writes the number alone.
func Count(n, sigma float64) string {
	if !isFinite(sigma) || sigma <= 0 {
		return group(roundTo(n, 0))
	}
	figure, half := rounded(n, sigma, 0)
	return figure + " ± " + half
}

// rounded writes a figure and its 95% half width to the place that the
// uncertainty supports, no finer than the least place.
func rounded(v, sigma float64, least int) (figure, half string) {
	place := max(Place(sigma, 0), least)
	return group(roundTo(v, place)), group(roundTo(ceilTo(2*sigma, place), place))
}

// HalfM writes a 95% half width in metres as Metres writes it behind its ±, for a sentence
// in which it stands apart from its length: "300 m".
func HalfM(half float64) string {
	_, text := rounded(0, half/2, -1)
	return text + " m"
}

// ceilTo rounds a half width up, so that it is never understated.
func ceilTo(v float64, place int) float64 {
	p := math.Pow(10, float64(place))
	return max(0, math.Ceil(v/p-1e-9)*p) // never −0
}

// group puts a thin space between thousands.
func group(digits string) string {
	whole, frac, _ := strings.Cut(digits, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	var b strings.Builder
	for i, r := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 && len(whole) > 4 {
			b.WriteRune('\u2009')
		}
		b.WriteRune(r)
	}
	if frac != "" {
		return sign + b.String() + "." + frac
	}
	return sign + b.String()
}

// Minutes writes a duration in whole minutes, such as "1 h 05" or "25 min".
func Minutes(d time.Duration) string {
	m := int(math.Round(d.Minutes()))
	if m < 60 {
		return fmt.Sprintf("%d min", m)
	}
	return fmt.Sprintf("%d h %02d", m/60, m%60)
}

// RoundLength writes a length that is round already, in metres or kilometres, such
// as the side of a grid square: "500 m", "1 km".
func RoundLength(m float64) string {
	if m >= 1000 {
		return fmt.Sprintf("%g km", m/1000)
	}
	return fmt.Sprintf("%g m", m)
}

// ErrorM writes the size of an error, in metres from 10 m on whole, in kilometres from
// 1 km on: "4.2 m", "12 m", "148 m", "1.3 km". HalfM writes a ± that stands beside a length.
func ErrorM(m float64) string {
	switch {
	case m >= 9950:
		return fmt.Sprintf("%.0f km", m/1000)
	case m >= 999.5:
		return fmt.Sprintf("%.1f km", m/1000)
	case m >= 9.95:
		return fmt.Sprintf("%.0f m", m)
	}
	return fmt.Sprintf("%.1f m", m)
}

// Grouped writes a number rounded to a whole one, without its sign and with commas between
// its thousands, such as "12,500".
func Grouped(v float64) string {
	digits := strconv.FormatFloat(math.Round(math.Abs(v)), 'f', 0, 64)
	var b strings.Builder
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(r)
	}
	return b.String()
}
