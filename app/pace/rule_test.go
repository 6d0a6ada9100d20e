package pace_test

import (
	"math"
	"testing"
	"time"

	"legwright/app/pace"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func metric(kmh float64) pace.Rule { return pace.Rule{Method: pace.NaismithMetric, SpeedKmh: kmh} }

// gentle is a descent of so many metres at 8°.
func gentle(m float64) pace.Stretch {
	return pace.Stretch{LengthM: m / math.Tan(8*math.Pi/180), RiseM: -m}
}

// Published examples of the rules.
func TestWorkedExamples(t *testing.T) {
	t.Parallel()
	// Encyclopedia article "Naismith's rule": three miles an hour, an hour for 2,000 feet.
	old := pace.Rule{Method: pace.Naismith1892}
	near(t, "three miles", old.Minutes(pace.Even(3*1609.344, 0, 0), pace.Unsaid), 60, 1e-9)
	near(t, "three miles and 2,000 feet", old.Minutes(pace.Even(3*1609.344, 609.6, 0), pace.Unsaid), 120, 1e-9)
	// The same article, metric forms: 5 km/h with an hour for 600 m, half an hour for 300 m,
	// 12 minutes to the kilometre with 10 minutes for 100 m.
	near(t, "5 km and 600 m", metric(5).Minutes(pace.Even(5000, 600, 0), pace.Unsaid), 120, 1e-9)
	near(t, "5 km and 300 m", metric(5).Minutes(pace.Even(5000, 300, 0), pace.Unsaid), 90, 1e-9)
	near(t, "1 km and 100 m", metric(5).Minutes(pace.Even(1000, 100, 0), pace.Unsaid), 22, 1e-9)
	// geographyfieldwork.com, "Naismith's Rule": 15 minutes to the kilometre, 10 for 100 m.
	near(t, "the slower form", metric(4).Minutes(pace.Even(1000, 100, 0), pace.Unsaid), 25, 1e-9)
	// walkingontheweb.co.uk: 15 km, 250 m of climb, 150 m of gentle descent: 180 + 25 − 5.
	down, rule := gentle(150), metric(5)
	rule.Langmuir = true
	way := []pace.Stretch{{LengthM: 15_000 - 2000 - down.LengthM}, {LengthM: 2000, RiseM: 250}, down}
	near(t, "the worked example", rule.Minutes(way, pace.Unsaid), 200, 1e-9)
	rule.Langmuir = false
	near(t, "without Langmuir", rule.Minutes(way, pace.Unsaid), 205, 1e-9)
	// Scarf's equivalence, the same article: by the rule as printed 3 miles are 2,000 feet.
	near(t, "7.92 m along for 1 m up", old.Minutes(pace.Even(7920, 0, 0), pace.Unsaid), old.Minutes([]pace.Stretch{{RiseM: 1000}}, pace.Unsaid), 0.01)
}

// Langmuir (Mountaincraft and Leadership, by the encyclopedia article): gentle descents
// take 10 minutes less for 300 m, steep ones 10 more, and below 5° nothing changes.
func TestLangmuir(t *testing.T) {
	t.Parallel()
	at := func(deg float64) pace.Stretch {
		return pace.Stretch{LengthM: 300 / math.Tan(deg*math.Pi/180), RiseM: -300}
	}
	for _, rule := range []pace.Rule{metric(4), metric(5), {Method: pace.Naismith1892}} {
		with := rule
		with.Langmuir = true
		for deg, want := range map[float64]float64{2: 0, 4.9: 0, 5: -10, 8: -10, 12: -10, 12.1: 10, 20: 10, 45: 10} {
			s := []pace.Stretch{at(deg)}
			near(t, "descent", with.Minutes(s, pace.OffPath)-rule.Minutes(s, pace.OffPath), want, 1e-9)
		}
		up := pace.Even(3000, 500, 0)
		near(t, "climb", with.Minutes(up, pace.Path), rule.Minutes(up, pace.Path), 0)
	}
	// Running downhill never takes less than no time.
	if got := (pace.Rule{Method: pace.NaismithMetric, SpeedKmh: 15, Langmuir: true}).Minutes([]pace.Stretch{at(12)}, pace.Path); !(got > 0) {
		t.Errorf("a descent takes %v minutes", got)
	}
}

// Tobler 1993 by the handbook's table of slopes (encyclopedia article "Tobler's hiking
// function", values calculated from its formula): km/h.
func TestTobler(t *testing.T) {
	t.Parallel()
	for deg, want := range map[float64]float64{-20: 1.999, -10: 3.856, -5: 5.262, 0: 5.037, 5: 3.708, 10: 2.717, 20: 1.409} {
		s := []pace.Stretch{{LengthM: 1000, RiseM: 1000 * math.Tan(deg*math.Pi/180)}}
		rule := pace.Rule{Method: pace.Tobler, Langmuir: true}
		near(t, "km/h", 60/rule.Minutes(s, pace.Path), want, 0.0005)
		near(t, "off a path", 60/rule.Minutes(s, pace.OffPath), 0.6*want, 0.0005)
	}
	near(t, "fastest", 60/(pace.Rule{Method: pace.Tobler}).Minutes([]pace.Stretch{{LengthM: 1000, RiseM: -50}}, pace.Path), 6, 1e-9)
}

// Ground changes the speed over the flat and not the climb: 5 km/h on a path where it is 4
// off one (Aitken 1977), and six tenths where it is rough.
func TestGround(t *testing.T) {
	t.Parallel()
	for g, want := range map[pace.Ground]float64{pace.Path: 12, pace.OffPath: 15, pace.Unsaid: 15, pace.Rough: 25} {
		near(t, "1 km, "+g.String(), metric(4).Minutes(pace.Even(1000, 0, 0), g), want, 1e-9)
		near(t, "and 100 m up, "+g.String(), metric(4).Minutes(pace.Even(1000, 100, 0), g), want+10, 1e-9)
	}
	for _, m := range pace.Methods() {
		rule := pace.Rule{Method: m, SpeedKmh: 4}
		last := 0.0
		for _, g := range []pace.Ground{pace.Path, pace.OffPath, pace.Rough, pace.Plantation} {
			got := rule.Minutes(pace.Even(1000, 50, 50), g)
			if got < last {
				t.Errorf("%s: %s is faster than better ground", m, g)
			}
			last = got
		}
		if !math.IsInf(last, 1) || pace.Duration(last) != 0 || pace.Plantation.Passable() {
			t.Errorf("%s: plantation takes %v minutes", m, last)
		}
	}
	if got := pace.Duration(90); got != 90*time.Minute {
		t.Errorf("90 minutes are %v", got)
	}
}

// Climb and descent share the length by their heights, and nothing is lost of either.
func TestEven(t *testing.T) {
	t.Parallel()
	for _, c := range [][3]float64{{1000, 100, 300}, {1000, 0, 300}, {1000, 100, 0}, {1000, 0, 0}, {0, 10, 5}} {
		length, up, down := 0.0, 0.0, 0.0
		for _, s := range pace.Even(c[0], c[1], c[2]) {
			length, up, down = length+s.LengthM, up+max(s.RiseM, 0), down+max(-s.RiseM, 0)
		}
		near(t, "length", length, c[0], 1e-9)
		near(t, "climb", up, c[1], 0)
		near(t, "descent", down, c[2], 0)
	}
	near(t, "shared", pace.Even(1000, 100, 300)[0].LengthM, 250, 1e-9)
}

// Every method and ground has words, and their names in files differ.
func TestNames(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, m := range pace.Methods() {
		if seen[string(m)] || m.Words() == "" || m.Words() == string(m) {
			t.Errorf("%q is called %q", m, m.Words())
		}
		seen[string(m)] = true
	}
	for _, g := range pace.Grounds() {
		if seen[string(g)] || g.String() == "" {
			t.Errorf("%q is called %q", g, g.String())
		}
		seen[string(g)] = true
	}
}
