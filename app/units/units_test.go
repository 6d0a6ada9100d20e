package units

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestTurnAndSigned(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ in, turn, signed float64 }{
		{0, 0, 0},
		{math.Copysign(0, -1), 0, 0},
		{360, 0, 0},
		{-90, 270, -90},
		{180, 180, 180},
		{-180, 180, 180},
		{540, 180, 180},
		{725, 5, 5},
	} {
		a := Degrees(c.in)
		if got := a.Turn().Deg(); math.Abs(got-c.turn) > 1e-12 || math.Signbit(got) {
			t.Errorf("Turn(%v°) = %v°, want %v°", c.in, got, c.turn)
		}
		if got := a.Signed().Deg(); math.Abs(got-c.signed) > 1e-12 {
			t.Errorf("Signed(%v°) = %v°, want %v°", c.in, got, c.signed)
		}
	}
	if got := Angle(-1e-20).Turn(); got != 0 {
		t.Errorf("Turn of a tiny negative angle = %v, want 0", got)
	}
}

// The grid-magnetic rules of the army handbook (Soldier's Manual of Common
// Tasks, figures C32 and C33, as quoted by armystudyguide.com): easterly G-M,
// magnetic to grid add; westerly, subtract. The first case is its example;
// the second is the wrap-around case computed from the same rule.
func TestGridMagneticHandbook(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name               string
		magnetic, gm, grid float64
	}{
		{"compass 190, easterly 9, add", 190, 9, 199},
		{"westerly 12 over north", 5, -12, 353},
		{"easterly 12 over north", 353, 12, 5},
		{"none", 77, 0, 77},
	} {
		got := NewMagneticBearing(Degrees(c.magnetic)).Grid(GMA(Degrees(c.gm)))
		if math.Abs((got.Angle() - Degrees(c.grid)).Signed().Deg()) > 1e-9 {
			t.Errorf("%s: grid = %v°, want %v°", c.name, got.Angle().Deg(), c.grid)
		}
		back := NewGridBearing(Degrees(c.grid)).Magnetic(GMA(Degrees(c.gm)))
		if math.Abs((back.Angle() - Degrees(c.magnetic)).Signed().Deg()) > 1e-9 {
			t.Errorf("%s: magnetic = %v°, want %v°", c.name, back.Angle().Deg(), c.magnetic)
		}
	}
}

func TestWorkedLegOfThePackageComment(t *testing.T) {
	t.Parallel()
	g, c, d := NewGridBearing(Degrees(57)), Convergence(Degrees(-1.5)), Declination(Degrees(0.5))
	gma := GridMagneticAngle(d, c)
	for _, k := range []struct {
		name      string
		got, want float64
	}{
		{"gma", gma.Angle().Deg(), 2},
		{"true", g.True(c).Angle().Deg(), 55.5},
		{"magnetic", g.Magnetic(gma).Angle().Deg(), 55},
		{"true to magnetic", g.True(c).Magnetic(d).Angle().Deg(), 55},
		{"back", g.Back().Angle().Deg(), 237},
	} {
		if math.Abs(k.got-k.want) > 1e-9 {
			t.Errorf("%s = %v, want %v", k.name, k.got, k.want)
		}
	}
}

func TestGridBearingOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ e, n, want float64 }{
		{0, 1, 0},
		{1, 0, 90},
		{0, -1, 180},
		{-1, 0, 270},
		{-1, 1, 315},
		// Rows 1 and 3 of the published route card of outdoorleaderonline.org, table 3.1.
		{-700, -1400, 206.565051},
		{-500, -1500, 198.434949},
	} {
		got, ok := GridBearingOf(c.e, c.n)
		if !ok || math.Abs(got.Angle().Deg()-c.want) > 1e-6 {
			t.Errorf("bearing of (%v, %v) = %v, %v, want %v", c.e, c.n, got.Angle().Deg(), ok, c.want)
		}
	}
	for _, c := range [][2]float64{{0, 0}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, ok := GridBearingOf(c[0], c[1]); ok {
			t.Errorf("bearing of %v: got one, want none", c)
		}
	}
}

func TestFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		circle Circle
		deg    float64
		want   string
	}{
		{WholeDegrees, 57.2, "057°"},
		{WholeDegrees, 359.6, "000°"},
		{WholeDegrees, 0, "000°"},
		{HalfDegrees, 57.3, "057.5°"},
		{HalfDegrees, 359.8, "000.0°"},
		{Mils6400, 57, "1010 mil"},
		{Mils6400, 359.9, "0000 mil"},
		{Gon400, 90, "100 gon"},
	} {
		if got := c.circle.Figure(Degrees(c.deg)); got != c.want {
			t.Errorf("%v Figure(%v°) = %q, want %q", c.circle, c.deg, got, c.want)
		}
	}
}

// What is printed closes in the head, in every circle, and each bearing is the
// nearest step to the exact one.
func TestClosedFiguresClose(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(Circles()).Draw(t, "circle")
		b := NewGridBearing(Degrees(rapid.Float64Range(0, 360).Draw(t, "grid")))
		g := GMA(Degrees(rapid.Float64Range(-60, 60).Draw(t, "gma")))
		p := c.Close(b, g)
		grid, mag := leadingNumber(t, p.Grid), leadingNumber(t, p.Magnetic)
		gma := leadingNumber(t, p.GMA)
		if strings.HasSuffix(p.GMA, "west") {
			gma = -gma
		}
		diff := math.Mod(grid-gma-mag+2*c.PerTurn(), c.PerTurn())
		if math.Min(diff, c.PerTurn()-diff) > 1e-9 {
			t.Fatalf("%s − %s ≠ %s", p.Grid, p.GMA, p.Magnetic)
		}
		if grid >= c.PerTurn() || mag >= c.PerTurn() {
			t.Fatalf("a full turn was printed: %s %s", p.Grid, p.Magnetic)
		}
		exact := b.Magnetic(g).Angle()
		if off := math.Abs((exact - Angle(mag/c.PerTurn()*2*math.Pi)).Signed().Rad()); off > 0.501*c.Step().Rad() {
			t.Fatalf("printed magnetic %s is %v steps from the exact one", p.Magnetic, off/c.Step().Rad())
		}
		if off := math.Abs((Angle(b) - Angle(grid/c.PerTurn()*2*math.Pi)).Signed().Rad()); off > 0.501*c.Step().Rad() {
			t.Fatalf("printed grid bearing %s is %v steps from the exact one", p.Grid, off/c.Step().Rad())
		}
		if off := math.Abs(g.Angle().Rad() - gma/c.PerTurn()*2*math.Pi); off > 1.001*c.Step().Rad() {
			t.Fatalf("printed GMA %s is %v steps from the exact one", p.GMA, off/c.Step().Rad())
		}
	})
}

func leadingNumber(t *rapid.T, s string) float64 {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) })
	v, err := strconv.ParseFloat(s[:end], 64)
	if err != nil {
		t.Fatalf("no number at the head of %q", s)
	}
	return v
}

func TestRuleInWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		gma        float64
		side, rule string
	}{
		{2.1, "2° east", "grid to magnetic, take off 2"},
		{-3, "3° west", "grid to magnetic, add 3"},
		{0.3, "0°", "grid and magnetic are the same"},
	} {
		got := WholeDegrees.Close(0, GMA(Degrees(c.gma)))
		if got.GMA != c.side || got.Rule != c.rule {
			t.Errorf("GMA %v: %q, %q, want %q, %q", c.gma, got.GMA, got.Rule, c.side, c.rule)
		}
	}
}

func TestEightPoint(t *testing.T) {
	for deg, want := range map[float64]string{0: "north", 22: "north", 23: "north-east", 359: "north", 180: "south", 247: "south-west", 292.6: "north-west"} {
		if got := EightPoint(Degrees(deg)); got != want {
			t.Errorf("%g°: %s, want %s", deg, got, want)
		}
	}
}

// Names and quarters of the sixteen points: common practice, no source.
func TestSixteenPoint(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		deg  float64
		want string
	}{
		{0, "north"},
		{11.2, "north"},
		{11.25, "north-north-east"},
		{45, "north-east"},
		{90, "east"},
		{157.5, "south-south-east"},
		{225, "south-west"},
		{281.24, "west"},
		{337.5, "north-north-west"},
		{348.75, "north"},
		{359.99, "north"},
		{-90, "west"},
	} {
		if got := SixteenPoint(Degrees(c.deg)); got != c.want {
			t.Errorf("SixteenPoint(%v°) = %q, want %q", c.deg, got, c.want)
		}
	}
}

func TestMetres(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		m, sigma float64
		want     string
	}{
		{1243.7, 0, "1244 m"},
		{1243.7, 6, "1240 m ± 20"},
		{1243.7, 1.5, "1244 m ± 3"},
		{12437, 60, "12\u2009400 m ± 200"},
		{3.26, 0.01, "3.3 m ± 0.1"},
		{math.NaN(), 1, "no length"},
	} {
		if got := Metres(c.m, c.sigma); got != c.want {
			t.Errorf("Metres(%v, %v) = %q, want %q", c.m, c.sigma, got, c.want)
		}
	}
}

// Figures go to the largest power of ten not above 2σ, and the half width is
// rounded up, in whole steps of the circle: never less than 2σ.
func TestHalfAndCount(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		circle Circle
		deg    float64 // σ
		want   string
	}{
		{WholeDegrees, 0, ""},
		{WholeDegrees, 0.5, ""},
		{WholeDegrees, 0.501, "± 2°"},
		{WholeDegrees, 3.2, "± 7°"},
		{WholeDegrees, 104, "± 180°"},
		{HalfDegrees, 0.25, ""},
		{HalfDegrees, 0.6, "± 1.5°"},
		{Mils6400, 0.28, ""},
		{Mils6400, 0.6, "± 30 mil"},
		{Gon400, 0.6, "± 2 gon"},
		{WholeDegrees, math.NaN(), "± 180°"},
	} {
		if got := c.circle.Half(Degrees(c.deg)); got != c.want {
			t.Errorf("%v Half(%v°) = %q, want %q", c.circle, c.deg, got, c.want)
		}
		if full := c.circle.FullHalf(Degrees(c.deg)); c.want != "" && full != c.want {
			t.Errorf("%v FullHalf(%v°) = %q, want %q", c.circle, c.deg, full, c.want)
		}
	}
	for circle, want := range map[Circle]string{WholeDegrees: "± 1°", HalfDegrees: "± 0.5°", Mils6400: "± 10 mil", Gon400: "± 1 gon"} {
		for _, sigma := range []Angle{0, circle.Step() / 40, circle.Step() / 2} {
			if got := circle.FullHalf(sigma); got != want {
				t.Errorf("%v FullHalf(%v°) = %q, want the one step that the figure claims, %q", circle, sigma.Deg(), got, want)
			}
		}
	}
	for _, c := range []struct {
		circle Circle
		deg    float64 // σ
		want   string
	}{
		{WholeDegrees, 0, ""},
		{WholeDegrees, 0.31, "± 0.7°"},
		{WholeDegrees, 2, "± 4°"},
		{Mils6400, 0.28, "± 10 mil"}, // 2σ = 0.56° = 9.96 mil
		{Mils6400, 2, "± 80 mil"},    // 4° = 71.1 mil
		{Gon400, 0.31, "± 0.7 gon"},  // 0.62° = 0.69 gon
	} {
		if got := c.circle.FineHalf(Degrees(c.deg)); got != c.want {
			t.Errorf("%v FineHalf(%v°) = %q, want %q", c.circle, c.deg, got, c.want)
		}
	}
	for _, c := range []struct {
		n, sigma float64
		want     string
	}{
		{1289, 129, "1300 ± 300"},
		{229, 23, "230 ± 50"},
		{42.4, 0.1, "42 ± 1"},
		{42.4, 0, "42"},
		{12890, 1289, "13\u2009000 ± 3000"},
	} {
		if got := Count(c.n, c.sigma); got != c.want {
			t.Errorf("Count(%v, %v) = %q, want %q", c.n, c.sigma, got, c.want)
		}
	}
}

func TestMinutes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		d    time.Duration
		want string
	}{{25 * time.Minute, "25 min"}, {65 * time.Minute, "1 h 05"}, {59*time.Minute + 40*time.Second, "1 h 00"}} {
		if got := Minutes(c.d); got != c.want {
			t.Errorf("Minutes(%v) = %q, want %q", c.d, got, c.want)
		}
	}
}

func TestParseBearing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		circle Circle
		want   float64 // degrees, −1 for an error
	}{
		{"57", WholeDegrees, 57},
		{" 057.5° ", WholeDegrees, 57.5},
		{"360", WholeDegrees, 0},
		{"1600", Mils6400, 90},
		{"100 gon", WholeDegrees, 90},
		{"1600 mil", WholeDegrees, 90},
		{"361", WholeDegrees, -1},
		{"-1", WholeDegrees, -1},
		{"", WholeDegrees, -1},
		{"NaN", WholeDegrees, -1},
		{"1e2", WholeDegrees, -1},
	} {
		got, err := ParseBearing(c.text, c.circle)
		if c.want < 0 {
			if err == nil {
				t.Errorf("ParseBearing(%q) = %v, want an error", c.text, got.Deg())
			}
			continue
		}
		if err != nil || math.Abs(got.Deg()-c.want) > 1e-9 {
			t.Errorf("ParseBearing(%q) = %v, %v, want %v", c.text, got.Deg(), err, c.want)
		}
	}
}

func TestParseMetres(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		want float64
	}{{"850", 850}, {"850 m", 850}, {"1.2 km", 1200}, {"1,2km", 1200}, {"-3", -1}, {"Inf", -1}, {"", -1}, {"2000 km", -1}} {
		got, err := ParseMetres(c.text)
		if (err != nil) != (c.want < 0) || (err == nil && math.Abs(got-c.want) > 1e-9) {
			t.Errorf("ParseMetres(%q) = %v, %v, want %v", c.text, got, err, c.want)
		}
	}
}

func FuzzParseBearing(f *testing.F) {
	for _, s := range []string{"57", "057.5°", "1600 mil", "-1", "١٢", "1,5", "°"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseBearing(s, WholeDegrees)
		if err == nil && (!a.IsFinite() || a < 0 || a >= 2*math.Pi) {
			t.Fatalf("ParseBearing(%q) = %v, outside [0, 2π)", s, a)
		}
	})
}

// A half width that stands alone is the one that Metres writes, never below what it states.
func TestHalfM(t *testing.T) {
	t.Parallel()
	for half, want := range map[float64]string{0: "0 m", 0.04: "0.1 m", 4.24: "5 m", 12: "20 m", 293: "300 m", 301: "400 m", 1300: "2000 m", 20000: "20\u2009000 m"} {
		if got := HalfM(half); got != want {
			t.Errorf("%v m: got %q, want %q", half, got, want)
		}
		if beside := Metres(3100, half/2) + " m"; half > 0 && !strings.HasSuffix(beside, "± "+HalfM(half)) {
			t.Errorf("%v m: got %q, want the half width of %q", half, HalfM(half), beside)
		}
	}
}

func TestErrorM(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		m    float64
		want string
	}{{0.04, "0.0 m"}, {4.24, "4.2 m"}, {9.94, "9.9 m"}, {9.96, "10 m"}, {999.4, "999 m"}, {999.6, "1.0 km"}, {1260, "1.3 km"}, {9960, "10 km"}, {20037508, "20038 km"}} {
		if got := ErrorM(c.m); got != c.want {
			t.Errorf("%v m: got %q, want %q", c.m, got, c.want)
		}
	}
}

func TestGrouped(t *testing.T) {
	t.Parallel()
	for v, want := range map[float64]string{0: "0", 999.4: "999", 999.5: "1,000", -12500: "12,500", 1234567: "1,234,567"} {
		if got := Grouped(v); got != want {
			t.Errorf("%g: got %q, want %q", v, got, want)
		}
	}
}

func TestAmount(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		circle Circle
		deg    float64
		want   string
	}{
		{WholeDegrees, 36.4, "36°"},
		{WholeDegrees, -7, "7°"},
		{HalfDegrees, 5.5, "5.5°"},
		{Mils6400, 45, "800 mil"},
		{Gon400, 90, "100 gon"},
	} {
		if got := c.circle.Amount(Degrees(c.deg)); got != c.want {
			t.Errorf("%s, %g°: got %q, want %q", c.circle, c.deg, got, c.want)
		}
	}
}
