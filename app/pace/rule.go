package pace

import (
	"math"
	"time"
)

// Stretch is a part of a way with one slope. A way that rises has a positive RiseM.
type Stretch struct{ LengthM, RiseM float64 } // LengthM horizontally

// Even returns the stretches of a way of which only the length, climb and descent are
// known: climb and descent share the length by their heights.
func Even(lengthM, climbM, descentM float64) []Stretch {
	all := climbM + descentM
	if all <= 0 {
		return []Stretch{{lengthM, 0}}
	}
	var out []Stretch
	for _, rise := range []float64{climbM, -descentM} {
		if rise != 0 {
			out = append(out, Stretch{lengthM * math.Abs(rise) / all, rise})
		}
	}
	return out
}

// slopeDeg is how steep a stretch is, downhill negative.
func (s Stretch) slopeDeg() float64 { return math.Atan2(s.RiseM, s.LengthM) * 180 / math.Pi }

// Rule is a method with what belongs to it.
type Rule struct {
	Method   Method
	SpeedKmh float64 // on the flat off a path; of NaismithMetric alone
	Langmuir bool    // of the forms of Naismith's rule alone
	NoSaving bool    // of Langmuir's corrections those alone that add time
}

// Published figures of the rules.
const (
	metresInMile = 1609.344
	metresInFoot = 0.3048

	imperialKmh        = 3 * metresInMile / 1000
	imperialMinPerM    = 60 / (2000 * metresInFoot)
	metricMinPerM      = 10.0 / 100
	langmuirMinPerM    = 10.0 / 300
	toblerKmh          = 6.0
	mostLangmuirSaving = 2.0 / 3 // of the time on the flat; at walking speeds it is never reached
)

// The slopes in degrees of Langmuir's gentle descent: below the first nothing changes, above the
// second he adds time.
const (
	GentleDeg = 5.0
	SteepDeg  = 12.0
)

// Minutes returns how many minutes of walking a way takes on one kind of ground, without
// stops; +Inf where nobody gets through.
func (r Rule) Minutes(way []Stretch, g Ground) float64 {
	if !g.Passable() {
		return math.Inf(1)
	}
	total := 0.0
	for _, s := range way {
		total += r.stretch(s, r.Method.factor(g))
	}
	return total
}

func (r Rule) stretch(s Stretch, factor float64) float64 {
	if r.Method == Tobler {
		slope := 0.0
		if s.LengthM > 0 {
			slope = s.RiseM / s.LengthM
		}
		return minutes(s.LengthM, factor*toblerKmh*math.Exp(-3.5*math.Abs(slope+0.05)))
	}
	kmh, perM := r.SpeedKmh, metricMinPerM
	if r.Method == Naismith1892 {
		kmh, perM = imperialKmh, imperialMinPerM
	}
	flat := minutes(s.LengthM, factor*kmh)
	total := flat + max(s.RiseM, 0)*perM
	if r.Langmuir {
		least := -mostLangmuirSaving * flat
		if r.NoSaving {
			least = 0
		}
		total += max(langmuir(s), least)
	}
	return total
}

// langmuir is what Langmuir adds to a descent, in minutes.
func langmuir(s Stretch) float64 {
	const rounding = 1e-9 // of a slope that is the limit itself
	switch down := -s.slopeDeg(); {
	case down < GentleDeg-rounding:
		return 0
	case down <= SteepDeg+rounding:
		return s.RiseM * langmuirMinPerM
	}
	return -s.RiseM * langmuirMinPerM
}

func minutes(m, kmh float64) float64 { return m / 1000 / kmh * 60 }

// Duration is so many minutes as a duration, 0 for minutes that are not finite.
func Duration(min float64) time.Duration {
	if math.IsInf(min, 0) || math.IsNaN(min) {
		return 0
	}
	return time.Duration(min * float64(time.Minute))
}
