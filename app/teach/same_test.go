package teach_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

func sighting(who string, from plan.Position, bearing, tolerance float64) teach.Sighting {
	return teach.Sighting{Who: who, From: from, Bearing: teach.Bearing{Angle: deg(bearing), North: units.GridNorth}, Tolerance: deg(tolerance)}
}

func same(t *testing.T, p *plan.Plan, a, b teach.Sighting) teach.Meeting {
	t.Helper()
	got, err := teach.SameFeature(reader(t, p), a, b, nil)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// bearingTo is the grid bearing in degrees between two positions.
func bearingTo(a, b plan.Position) float64 {
	return units.Angle(math.Atan2(b.Grid.E-a.Grid.E, b.Grid.N-a.Grid.N)).Turn().Deg()
}

// TestSameFeature: what a pair of bearings is taken for, and why.
func TestSameFeature(t *testing.T) {
	t.Parallel()
	cairn, pillar := at(0, 1000, 2), at(600, 900, 2)
	p := marked(plan.New(today()), cairn, pillar)
	ann, ben := at(-500, 0, 3), at(500, 0, 3)
	for _, c := range []struct {
		name    string
		a, b    teach.Sighting
		want    teach.Verdict
		crosses bool
		text    string
	}{
		{"the same cairn", sighting("Ann", ann, bearingTo(ann, cairn), 5), sighting("Ben", ben, bearingTo(ben, cairn), 5), teach.Likely, true, "Both bearings fit A best"},
		{"a cairn and a pillar", sighting("Ann", ann, bearingTo(ann, cairn), 3), sighting("Ben", ben, bearingTo(ben, pillar), 3), teach.Likely, true, "None of these fits both bearings."},
		{"apart", sighting("Ann", ann, 330, 5), sighting("Ben", ben, 30, 5), teach.Cannot, false, "Not the same feature: your lines run apart."},
		{"behind one", sighting("Ann", ann, 45, 5), sighting("Ben", ben, 135, 5), teach.Cannot, false, "your lines cross behind Ben"},
		{"behind the other", sighting("Ann", ann, 225, 5), sighting("Ben", ben, 315, 5), teach.Cannot, false, "your lines cross behind Ann"},
		{"side by side", sighting("Ann", ann, 0, 5), sighting("Ben", ben, 1, 5), teach.Likely, false, "they may cross within the ± of your bearings"},
		{"exactly side by side", sighting("Ann", ann, 0, 5), sighting("Ben", ben, 0, 5), teach.Likely, false, "they may cross within the ± of your bearings"},
		{"a little apart", sighting("Ann", ann, 354, 5), sighting("Ben", ben, 7, 5), teach.Possible, false, "Probably not the same feature"},
		{"a narrow crossing", sighting("Ann", ann, 10, 5), sighting("Ben", ben, 355, 5), teach.Likely, true, "They cross at only 15°"},
		{"at one place", sighting("Ann", ann, 10, 5), sighting("Ben", at(-498, 1, 3), 355, 5), teach.Possible, false, "You both stand at the same position"},
		{"at one place, apart", sighting("Ann", ann, 10, 5), sighting("Ben", at(-498, 1, 3), 340, 5), teach.Cannot, false, "your bearings are 30° apart"},
		{"at the very place", sighting("Ann", ann, 10, 5), sighting("Ben", ann, 12, 5), teach.Likely, false, "You both stand at the same position"},
	} {
		got := same(t, p, c.a, c.b)
		if got.Verdict != c.want || (got.Crossing != nil) != c.crosses || !strings.Contains(got.Text, c.text) {
			t.Errorf("%s: %s, crossing %v, %q; want %s, %v, %q", c.name, got.Verdict, got.Crossing, got.Text, c.want, c.crosses, c.text)
		}
	}
}

// TestCrossingFigures: the ± of a crossing and the distances beside it end at the same
// place, that of the largest power of ten in the ±, which is never understated.
func TestCrossingFigures(t *testing.T) {
	t.Parallel()
	figures := regexp.MustCompile(`± (\d+) m, (\d+) m from Ann and (\d+) m from Ben`)
	ann, ben := at(-1500, 0, 3), at(1500, 0, 3)
	for _, ahead := range []float64{150, 700, 2500, 4000} {
		for _, half := range []float64{1, 3, 5} {
			cairn := at(90, ahead, 0)
			got := same(t, plan.New(today()), sighting("Ann", ann, bearingTo(ann, cairn), half), sighting("Ben", ben, bearingTo(ben, cairn), half))
			said := figures.FindStringSubmatch(got.Text)
			if said == nil {
				t.Errorf("%v m ahead ± %v°: no figures in %q", ahead, half, got.Text)
				continue
			}
			place := math.Pow(10, math.Floor(math.Log10(got.Crossing.Radius95M)))
			for i, exact := range []float64{got.Crossing.Radius95M, got.Crossing.DistanceM[0], got.Crossing.DistanceM[1]} {
				v, err := strconv.ParseFloat(said[i+1], 64)
				if err != nil || math.Mod(v, place) != 0 || math.Abs(v-exact) >= place || i == 0 && v < exact || i > 0 && !near(v, exact, place/2) {
					t.Errorf("%v m ahead ± %v°: %s for %.1f, to the place of %v", ahead, half, said[i+1], exact, place)
				}
			}
		}
	}
}

// TestWhatFitsBoth ranks what both see before what one sees.
func TestWhatFitsBoth(t *testing.T) {
	t.Parallel()
	cairn, pillar, hut := at(0, 1000, 2), at(600, 900, 2), at(-2000, -500, 2)
	ann, ben := at(-500, 0, 3), at(500, 0, 3)
	got := same(t, marked(plan.New(today()), hut, pillar, cairn), sighting("Ann", ann, bearingTo(ann, cairn), 4), sighting("", ben, bearingTo(ben, cairn), 4))
	want := []struct {
		name, text string
		verdict    teach.Verdict
	}{
		{"C", "fits both", teach.Likely},
		{"B", "fits neither", teach.Cannot},
		{"A", "fits neither", teach.Cannot},
	}
	for i, w := range want {
		if f := got.Fits[i]; f.Name != w.name || f.Verdict != w.verdict || f.Text != w.text {
			t.Errorf("%d: got %+v, want %+v", i, f, w)
		}
	}
	alone := same(t, marked(plan.New(today()), at(-250, 500, 2)), sighting("Ann", ann, bearingTo(ann, cairn), 4), sighting("", ben, bearingTo(ben, cairn), 4))
	if f := alone.Fits[0]; f.Text != "fits Ann, but cannot be what the second sees" {
		t.Errorf("got %+v", f)
	}
}

// TestCrossing: where the rays cross, and how far that may be out, against 100,000 seeded
// draws of bearings and positions.
func TestCrossing(t *testing.T) {
	t.Parallel()
	ann, ben, cairn := at(-500, 0, 15), at(700, 200, 10), at(100, 1400, 0)
	got := same(t, plan.New(today()), sighting("Ann", ann, bearingTo(ann, cairn), 3), sighting("Ben", ben, bearingTo(ben, cairn), 5)).Crossing
	if got == nil || !near(got.At.Grid.E, cairn.Grid.E, 0.001) || !near(got.At.Grid.N, cairn.Grid.N, 0.001) {
		t.Fatalf("got %+v, want %v", got, cairn.Grid)
	}
	if !near(got.DistanceM[0], math.Hypot(600, 1400), 0.001) || !near(got.DistanceM[1], math.Hypot(600, 1200), 0.001) {
		t.Errorf("got %v", got.DistanceM)
	}
	const draws = 100_000
	rnd := rand.New(rand.NewPCG(3, 4))
	circle, oval := 0, 0
	sin, cos := math.Sincos(got.Along.Angle().Rad())
	for range draws {
		var p, u [2][2]float64
		for i, s := range []plan.Position{ann, ben} {
			b := deg(bearingTo(s, cairn)) + deg([2]float64{1.5, 2.5}[i]*rnd.NormFloat64())
			p[i] = [2]float64{s.Grid.E + s.SigmaM*rnd.NormFloat64(), s.Grid.N + s.SigmaM*rnd.NormFloat64()}
			u[i] = [2]float64{math.Sin(b.Rad()), math.Cos(b.Rad())}
		}
		along := ((p[1][0]-p[0][0])*u[1][1] - (p[1][1]-p[0][1])*u[1][0]) / (u[0][0]*u[1][1] - u[0][1]*u[1][0])
		e, n := p[0][0]+along*u[0][0]-cairn.Grid.E, p[0][1]+along*u[0][1]-cairn.Grid.N
		if math.Hypot(e, n) <= got.Radius95M {
			circle++
		}
		if x, y := (e*sin+n*cos)/got.LongM, (e*cos-n*sin)/got.ShortM; x*x+y*y <= 1 {
			oval++
		}
	}
	for what, n := range map[string]int{"circle": circle, "ellipse": oval} {
		if share := float64(n) / draws; share < 0.935 || share > 0.965 {
			t.Errorf("the %s of 95 %% holds %.1f %%", what, 100*share)
		}
	}
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// TestNotTheSameIsRare draws 1,000 features that two people see: they are hardly ever
// told that theirs cannot be the same, and two features far apart often are.
func TestNotTheSameIsRare(t *testing.T) {
	t.Parallel()
	const draws = 1000
	rnd := rand.New(rand.NewPCG(7, 7))
	r := reader(t, plan.New(today()))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	wrong, apart := 0, 0
	for range draws {
		x := at(between(-2000, 2000), between(-2000, 2000), 0)
		var said [2]teach.Sighting
		for i := range said {
			from := at(between(-2000, 2000), between(-2000, 2000), 10)
			for math.Hypot(from.Grid.E-x.Grid.E, from.Grid.N-x.Grid.N) < 150 {
				from = at(between(-2000, 2000), between(-2000, 2000), 10)
			}
			true := from
			true.Grid.E += 10 * rnd.NormFloat64()
			true.Grid.N += 10 * rnd.NormFloat64()
			said[i] = sighting("", from, bearingTo(true, x)+2.5*rnd.NormFloat64(), 5)
		}
		got, err := teach.SameFeature(r, said[0], said[1], nil)
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict == teach.Cannot {
			wrong++
		}
		said[1].Bearing.Angle += deg(between(60, 300))
		if got, err = teach.SameFeature(r, said[0], said[1], nil); err != nil {
			t.Fatal(err)
		}
		if got.Verdict == teach.Cannot {
			apart++
		}
	}
	t.Logf("refused: the same %d, others %d of %d", wrong, apart, draws)
	if share := float64(wrong) / draws; share > 0.005 {
		t.Errorf("the same feature was refused in %.2f %%", 100*share)
	}
	if share := float64(apart) / draws; share < 0.5 {
		t.Errorf("other features were refused in %.0f %% only", 100*share)
	}
}

// TestSameFeatureStops: on a stop at one of the two there is no verdict.
func TestSameFeatureStops(t *testing.T) {
	t.Parallel()
	lost := picked(t, sheet(), 900, 1000, 0.5)
	lost.Sheet = "sheet-9"
	got := same(t, marked(plan.New(today()).SetSheet(sheet()), around(60, 1000)), sighting("Ann", lost, 45, 5), sighting("Ben", at(500, 0, 3), 315, 5))
	if !got.Stopped || got.Verdict != teach.NoVerdict || !strings.HasPrefix(got.Text, "STOP: ") || !caution.Has(got.Cautions, caution.SheetGone) || got.Fits[0].Verdict != teach.NoVerdict {
		t.Errorf("got %+v", got)
	}
}

// TestSameFeatureRefuses names the person whose sighting is refused.
func TestSameFeatureRefuses(t *testing.T) {
	t.Parallel()
	r := reader(t, plan.New(today()))
	good := sighting("Ann", at(0, 0, 1), 45, 5)
	unsaid, sharp, bad := sighting("Ben", at(500, 0, 1), 45, 5), sighting("", at(500, 0, 1), 45, 0), sighting("", at(math.NaN(), 0, 1), 45, 5)
	unsaid.Bearing.North = units.NoNorth
	var not *teach.NorthNotSaid
	if _, err := teach.SameFeature(r, good, unsaid, nil); !errors.As(err, &not) || !strings.HasPrefix(err.Error(), "Ben: 045° from which north?") {
		t.Errorf("got %v", err)
	}
	if _, err := teach.SameFeature(r, good, sharp, nil); err == nil || !strings.HasPrefix(err.Error(), "the second: a tolerance of 0°") {
		t.Errorf("got %v", err)
	}
	if _, err := teach.SameFeature(r, bad, good, nil); err == nil || !strings.HasPrefix(err.Error(), "the first: ") {
		t.Errorf("got %v", err)
	}
	other := good
	other.From = plan.Position{Grid: at(0, 0, 0).Grid, Code: "EPSG:32630", Origin: plan.Typed}
	other.From.Grid.E, other.From.Grid.N = 500_000, 6_000_000
	if _, err := teach.SameFeature(r, good, other, nil); err == nil || !strings.Contains(err.Error(), "different grids") {
		t.Errorf("got %v", err)
	}
}
