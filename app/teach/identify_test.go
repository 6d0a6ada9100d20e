package teach_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

// around is a position at a bearing and a distance from the middle of the ground, known
// to 1 m.
func around(bearing, distM float64) plan.Position {
	sin, cos := math.Sincos(deg(bearing).Rad())
	return at(distM*sin, distM*cos, 1)
}

func identify(t *testing.T, p *plan.Plan, from plan.Position, bearing float64, north units.North, extra ...teach.Feature) teach.Answer {
	t.Helper()
	got, err := teach.Identify(reader(t, p), from, teach.Bearing{Angle: deg(bearing), North: north}, deg(5), nil, extra...)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func candidate(t *testing.T, a teach.Answer, name string) teach.Candidate {
	t.Helper()
	i := slices.IndexFunc(a.Candidates, func(c teach.Candidate) bool { return c.Name == name })
	if i < 0 {
		t.Fatalf("%s is not among %d candidates", name, len(a.Candidates))
	}
	return a.Candidates[i]
}

// TestVerdicts: likely within 2 σ, possible within 3 σ, and beyond that it cannot be.
func TestVerdicts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		mark, ray float64
		want      teach.Verdict
		text      string
	}{
		{60, 60, teach.Likely, "bears 060° grid, on your bearing: it fits"},
		{64, 60, teach.Likely, "bears 064° grid, 4° right of your bearing: it fits"},
		{357, 2, teach.Likely, "bears 357° grid, 5° left of your bearing: it fits"},
		{67, 60, teach.Possible, "bears 067° grid, 7° right of your bearing: a little outside ± 6°, so take the bearing again"},
		{24, 60, teach.Cannot, "bears 024° grid, 36° left of your bearing: much too near north to be the feature you see"},
		{70, 60, teach.Cannot, "bears 070° grid, 10° right of your bearing: too near east to be the feature you see"},
		{40, 5, teach.Cannot, "bears 040° grid, 35° right of your bearing: much too far from north to be the feature you see"},
		{100, 60, teach.Cannot, "bears 100° grid, 40° right of your bearing: much too near east to be the feature you see"},
		{220, 60, teach.Cannot, "bears 220° grid, 160° right of your bearing: nearly behind you, so it cannot be the feature you see"},
		{240, 60, teach.Cannot, "bears 240° grid, exactly behind you: it cannot be the feature you see"},
	} {
		a := identify(t, marked(plan.New(today()), around(c.mark, 1000)), at(0, 0, 1), c.ray, units.GridNorth)
		got := a.Candidates[0]
		if got.Verdict != c.want || got.Text != c.text {
			t.Errorf("mark at %g°, ray %g°: got %s, %q, want %s, %q", c.mark, c.ray, got.Verdict, got.Text, c.want, c.text)
		}
		if off := (deg(c.mark) - deg(c.ray) - got.Off).Signed().Deg(); math.Abs(off) > 0.01 || math.Abs(got.DistanceM-1000) > 2 {
			t.Errorf("mark at %g°, ray %g°: off %.3f°, %.1f m", c.mark, c.ray, got.Off.Deg(), got.DistanceM)
		}
	}
}

// TestWordsAgreeWithTheChance: what is possible and likelier than not is called the nearest;
// only where it is not does nothing fit well. The bearing is ± 5°, so 2 σ and 3 σ are a
// little over 5° and 7.5°.
func TestWordsAgreeWithTheChance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		mark    float64
		nearest bool
	}{{66.5, true}, {67.3, false}} {
		a := identify(t, marked(plan.New(today()), around(c.mark, 1000)), at(0, 0, 1), 60, units.GridNorth)
		got := a.Candidates[0]
		if got.Verdict != teach.Possible || (got.Chance > 0.5) != c.nearest {
			t.Fatalf("mark at %g°: %s with a chance of %.2f", c.mark, got.Verdict, got.Chance)
		}
		if nothing := strings.HasPrefix(a.Text, "Nothing fits well"); nothing == c.nearest {
			t.Errorf("mark at %g°, chance %.2f: %q", c.mark, got.Chance, a.Text)
		}
	}
}

// TestNorths: one feature, its bearing said from each north, lies on the ray each time,
// and a training GMA takes the place of the ground's.
func TestNorths(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), around(60, 1000))
	r := reader(t, p)
	read, err := r.Read(at(0, 0, 1), p.Marks[0].Position)
	if err != nil {
		t.Fatal(err)
	}
	for north, bearing := range map[units.North]units.Angle{
		units.GridNorth: read.Grid.Angle(), units.MagneticNorth: read.Magnetic.Angle(), units.TrueNorth: read.True.Angle(),
	} {
		a, err := teach.Identify(r, at(0, 0, 1), teach.Bearing{Angle: bearing, North: north}, deg(5), nil)
		if err != nil {
			t.Fatal(err)
		}
		c := a.Candidates[0]
		if math.Abs(c.Off.Deg()) > 1e-6 || math.Abs((c.Bearing-bearing).Signed().Deg()) > 1e-6 || !strings.Contains(c.Text, "° "+north.String()+", on your bearing") {
			t.Errorf("%s: %.6f° off, %s", north, c.Off.Deg(), c.Text)
		}
		if wider := a.Half > a.Tolerance; wider != (north == units.MagneticNorth) {
			t.Errorf("%s: ± %.3f°", north, a.Half.Deg())
		}
	}
	east := units.GMA(deg(12))
	a, err := teach.Identify(r, at(0, 0, 1), teach.Bearing{Angle: deg(48), North: units.MagneticNorth}, deg(5), &east)
	if err != nil {
		t.Fatal(err)
	}
	if c := a.Candidates[0]; math.Abs(c.Off.Deg()) > 0.001 || c.Verdict != teach.Likely || !caution.Has(a.Cautions, caution.TrainingGMA) || a.Stopped {
		t.Errorf("training: %+v, %v", c, a.Cautions)
	}
}

// TestNorthNotSaid: a bearing without its north is asked about, with what lies between.
func TestNorthNotSaid(t *testing.T) {
	t.Parallel()
	_, err := teach.Identify(reader(t, marked(plan.New(today()), around(60, 1000))), at(0, 0, 1), teach.Bearing{Angle: deg(60)}, deg(5), nil)
	var not *teach.NorthNotSaid
	if !errors.As(err, &not) || not.Figure != "060°" || !strings.Contains(not.Apart, "° east") {
		t.Errorf("got %v", err)
	}
	_, err = teach.Identify(reader(t, marked(plan.New(today()), around(60, 1000))), at(0, 0, 1), teach.Bearing{Angle: deg(60)}, deg(5), new(units.GMA))
	if want := "060° from which north? Say grid, mag or true: grid and magnetic bearings are the same here"; err == nil || err.Error() != want {
		t.Errorf("without a GMA: got %v, want %q", err, want)
	}
}

// TestNoMagneticNorth: without a date, or after the model, a bearing from magnetic north
// means nothing; one from grid north does.
func TestNoMagneticNorth(t *testing.T) {
	t.Parallel()
	for code, day := range map[caution.Code]plan.Date{caution.NoDate: {}, caution.OutsideModel: {Year: 2034, Month: 1, Day: 2}} {
		p := marked(plan.New(day), around(60, 1000))
		_, err := teach.Identify(reader(t, p), at(0, 0, 1), teach.Bearing{Angle: deg(60), North: units.MagneticNorth}, deg(5), nil)
		var none *teach.NoSuchNorth
		if !errors.As(err, &none) || none.Caution.Code != code {
			t.Errorf("%s: got %v", code, err)
		}
		a := identify(t, p, at(0, 0, 1), 60, units.GridNorth)
		if a.Stopped || a.Candidates[0].Verdict != teach.Likely || !caution.Has(a.Cautions, code) {
			t.Errorf("%s: grid: %+v", code, a)
		}
		west := units.GMA(deg(-17))
		trained, err := teach.Identify(reader(t, p), at(0, 0, 1), teach.Bearing{Angle: deg(77), North: units.MagneticNorth}, deg(5), &west)
		if err != nil || trained.Candidates[0].Verdict != teach.Likely || caution.Has(trained.Cautions, code) {
			t.Errorf("%s: training: %v, %+v", code, err, trained)
		}
	}
}

func TestTolerances(t *testing.T) {
	t.Parallel()
	r := reader(t, marked(plan.New(today()), around(60, 1000)))
	for _, c := range []struct {
		deg  float64
		good bool
	}{{0, false}, {-5, false}, {0.4, false}, {0.5, true}, {5, true}, {90, true}, {90.1, false}, {math.NaN(), false}, {math.Inf(1), false}} {
		_, err := teach.Identify(r, at(0, 0, 1), teach.Bearing{Angle: deg(60), North: units.GridNorth}, deg(c.deg), nil)
		if (err == nil) != c.good {
			t.Errorf("± %g°: %v", c.deg, err)
		}
		if err != nil && !strings.Contains(err.Error(), "such as 5°") {
			t.Errorf("± %g°: %q does not say what to type", c.deg, err)
		}
	}
}

// TestNoMarks and what stands at the position, beside it, or together.
func TestNoMarks(t *testing.T) {
	t.Parallel()
	a := identify(t, plan.New(today()), at(0, 0, 1), 60, units.GridNorth)
	if a.None != 1 || len(a.Candidates) != 0 || !strings.Contains(a.Text, "set marks") {
		t.Errorf("got %+v", a)
	}
	a = identify(t, plan.New(today()), at(0, 0, 1), 60, units.GridNorth, teach.Feature{Name: "the wall's corner", Position: around(61, 700)})
	if c := candidate(t, a, "the wall's corner"); c.ID != "" || c.Verdict != teach.Likely {
		t.Errorf("got %+v", c)
	}
}

func TestMarkAtThePosition(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), at(0, 0, 1), at(3, 4, 8), at(20, 0, 3), around(60, 1000))
	a := identify(t, p, at(0, 0, 1), 60, units.GridNorth)
	for name, want := range map[string]string{"A": "is where you stand", "B": "its bearing means nothing", "C": "is so near"} {
		c := candidate(t, a, name)
		if c.Verdict != teach.NoVerdict || !strings.Contains(c.Text, want) || c.Here != (name == "A") {
			t.Errorf("%s: %s, %q", name, c.Verdict, c.Text)
		}
	}
	if c := candidate(t, a, "A"); c.Chance != 0 {
		t.Errorf("what lies where one stands has the chance %g", c.Chance)
	}
	if c := candidate(t, a, "D"); c.Verdict != teach.Likely || a.Stopped || !strings.Contains(a.Text, "only D fits") {
		t.Errorf("%+v, %q", c, a.Text)
	}
}

// TestBestAndPossible: while another feature could be it, none is said to be the only one.
func TestBestAndPossible(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), around(60, 1000), around(66.5, 1000), around(200, 1000))
	a := identify(t, p, at(0, 0, 1), 60, units.GridNorth)
	if one, two := candidate(t, a, "A"), candidate(t, a, "B"); one.Verdict != teach.Likely || two.Verdict != teach.Possible {
		t.Fatalf("A is %s and B %s: the test tries nothing", one.Verdict, two.Verdict)
	}
	if strings.Contains(a.Text, "only") || !strings.Contains(a.Text, "A fits best, but B could be the feature too") {
		t.Errorf("%q", a.Text)
	}
}

func TestSeveralAtOnePlace(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), around(60, 1000), around(60, 1000), around(200, 1000))
	a := identify(t, p, at(0, 0, 1), 60, units.GridNorth)
	one, two := candidate(t, a, "A"), candidate(t, a, "B")
	if one.Chance != two.Chance || !slices.Equal(one.Together, []string{"B"}) || !strings.Contains(two.Text, "; A is at the same position") {
		t.Errorf("got %+v and %+v", one, two)
	}
	three := identify(t, marked(plan.New(today()), around(60, 1000), around(60, 1000), around(60, 1000)), at(0, 0, 1), 66, units.GridNorth)
	if c := candidate(t, three, "C"); !strings.HasSuffix(c.Text, "so take the bearing again; A and B are at the same position") {
		t.Errorf("got %q", c.Text)
	}
	if !strings.Contains(a.Text, "A and B fit: this bearing cannot tell them apart") || len(candidate(t, a, "C").Together) != 0 {
		t.Errorf("got %q", a.Text)
	}
}

// TestWrongEnd: what lies the other way is named.
func TestWrongEnd(t *testing.T) {
	t.Parallel()
	a := identify(t, marked(plan.New(today()), around(60, 1000), around(150, 800)), at(0, 0, 1), 238, units.GridNorth)
	if !strings.Contains(a.Text, "A is in the opposite direction") {
		t.Errorf("got %q", a.Text)
	}
}

// TestStops: under a stop on the position nothing is likely and nothing cannot be, and
// nothing has a chance; under one on a single mark only that mark has no verdict.
func TestStops(t *testing.T) {
	t.Parallel()
	good, lost := sheet(), sheet()
	lost.ID, lost.Points = "sheet-2", nil
	gone := picked(t, good, 1100, 1000, 0.5)
	gone.Sheet = "sheet-9"
	on := picked(t, good, 1400, 1000, 0.5)
	onLost := on
	onLost.Sheet = lost.ID
	p := plan.New(today()).SetSheet(good).SetSheet(lost)
	for name, c := range map[string]struct {
		from plan.Position
		code caution.Code
	}{
		"a sheet that is not calibrated": {onLost, caution.Uncalibrated},
		"a sheet that is gone":           {gone, caution.SheetGone},
		"outside the grid's area":        {plan.Position{Grid: geodesy.Grid{E: -354_500, N: 756_500}, Code: grid, Origin: plan.Typed}, caution.OutsideArea},
		"no field for a compass":         {plan.Position{Grid: geodesy.Grid{E: 2_283_700, N: 2_338_000}, Code: "EPSG:5041", Origin: plan.Typed}, caution.BlackoutZone},
	} {
		q := marked(p, around(60, 1000), around(90, 3000))
		if c.code == caution.BlackoutZone {
			q = marked(plan.New(today()), plan.Position{Grid: geodesy.Grid{E: 2_284_700, N: 2_338_500}, Code: "EPSG:5041", Origin: plan.Typed})
		}
		a := identify(t, q, c.from, 60, units.GridNorth)
		if !a.Stopped || a.None != 0 || !caution.Has(a.Cautions, c.code) || !strings.HasPrefix(a.Text, "STOP: ") {
			t.Errorf("%s: %+v", name, a)
		}
		for _, k := range a.Candidates {
			if k.Verdict != teach.NoVerdict || k.Chance != 0 || k.DistanceM == 0 || !strings.Contains(k.Text, "no verdict, STOP") {
				t.Errorf("%s: %s has %s, chance %g, %q", name, k.Name, k.Verdict, k.Chance, k.Text)
			}
		}
	}
	a := identify(t, marked(p, around(60, 1000), onLost), at(0, 0, 1), 60, units.GridNorth)
	if sound, bad := candidate(t, a, "A"), candidate(t, a, "B"); a.Stopped || sound.Verdict != teach.Likely || bad.Verdict != teach.NoVerdict || bad.Chance != 0 {
		t.Errorf("one mark on a lost sheet: %+v", a)
	}
}

// TestNotesStay: an unchecked sheet is a note on every verdict, and forbids none.
func TestNotesStay(t *testing.T) {
	t.Parallel()
	s := sheet()
	p := marked(plan.New(today()).SetSheet(s), picked(t, s, 1200, 800, 0.5))
	a := identify(t, p, picked(t, s, 1000, 1000, 0.5), 45, units.GridNorth)
	if a.Stopped || !caution.Has(a.Cautions, caution.Unchecked) || !caution.Has(a.Candidates[0].Cautions, caution.Unchecked) || a.Candidates[0].Verdict != teach.Likely {
		t.Errorf("got %+v", a)
	}
}

// TestHousingIsNoMatter: a caution about the figure to set does not stand with a sighting.
func TestHousingIsNoMatter(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), around(60, 1000))
	p.Party.Compass.Set, p.Party.Compass.SetTo = true, deg(20)
	a := identify(t, p, at(0, 0, 1), 60, units.GridNorth)
	if caution.Has(a.Candidates[0].Cautions, caution.HousingOff) {
		t.Errorf("got %v", a.Candidates[0].Cautions)
	}
}

// TestPositionThatCannotBeComputed is an error at the position, and a sentence at a mark.
func TestPositionThatCannotBeComputed(t *testing.T) {
	t.Parallel()
	bad := plan.Position{Grid: geodesy.Grid{E: math.NaN(), N: 1}, Code: grid}
	if _, err := teach.NewLookout(reader(t, plan.New(today())), bad); err == nil {
		t.Error("a position that is no number is a lookout")
	}
	a := identify(t, marked(plan.New(today()), bad, around(60, 1000)), at(0, 0, 1), 60, units.GridNorth)
	if c := candidate(t, a, "A"); c.Verdict != teach.NoVerdict || !strings.HasPrefix(c.Text, "cannot be compared: ") {
		t.Errorf("got %+v", c)
	}
}

// TestBentGrid: on a grid that bends bearings a true bearing still leads to its mark.
func TestBentGrid(t *testing.T) {
	t.Parallel()
	const bent = geodesy.Code("EPSG:3035")
	from := plan.Position{Grid: geodesy.Grid{E: 3_500_000, N: 3_000_000}, Code: bent, Origin: plan.Typed}
	p := marked(plan.New(today()), plan.Position{Grid: geodesy.Grid{E: 3_501_000, N: 3_000_500}, Code: bent, Origin: plan.Typed})
	read, err := reader(t, p).Read(from, p.Marks[0].Position)
	if err != nil {
		t.Fatal(err)
	}
	for north, bearing := range map[units.North]units.Angle{units.TrueNorth: read.True.Angle(), units.MagneticNorth: read.Magnetic.Angle()} {
		a, err := teach.Identify(reader(t, p), from, teach.Bearing{Angle: bearing, North: north}, deg(5), nil)
		if err != nil || math.Abs(a.Candidates[0].Off.Deg()) > 1e-4 || !caution.Has(a.Cautions, caution.BentGrid) {
			t.Errorf("%s: %v, %+v", north, err, a)
		}
	}
}

// TestTrained: a lesson's GMA replaces the ground's and stops the reading.
func TestTrained(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(plan.Date{}), around(60, 1000))
	read, err := reader(t, p).Read(at(0, 0, 1), p.Marks[0].Position)
	if err != nil {
		t.Fatal(err)
	}
	got := teach.Trained(read, units.GMA(deg(12)), units.WholeDegrees)
	if !got.HasMagnetic || math.Abs(got.Magnetic.Angle().Deg()-48) > 0.01 || math.Abs(got.BackMagnetic.Angle().Deg()-228) > 0.01 || !got.Stopped() || got.Has(caution.NoDate) {
		t.Errorf("got %+v", got)
	}
	if read.HasMagnetic || read.Has(caution.TrainingGMA) {
		t.Error("the reading itself has changed")
	}
}

// TestLook: every mark has its bearing from the north asked for before any ray is there.
func TestLook(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), around(60, 1000), at(0, 0, 1))
	l, err := teach.NewLookout(reader(t, p), at(0, 0, 1), teach.Feature{Name: "wall", Position: around(200, 300)})
	if err != nil {
		t.Fatal(err)
	}
	got, err := l.Look(units.GridNorth, nil)
	if err != nil || len(got) != 3 || got[0].ID != "mark-A" || got[2].Name != "wall" || !got[1].Here {
		t.Fatalf("got %+v, %v", got, err)
	}
	if got[0].Text != "bears 060° grid, 999 m ± 3 away" || got[0].Verdict != teach.NoVerdict || got[0].Chance != 0 {
		t.Errorf("got %+v", got[0])
	}
	east := units.GMA(deg(12))
	if got, err = l.Look(units.MagneticNorth, &east); err != nil || math.Abs(got[0].Bearing.Deg()-48) > 0.01 {
		t.Errorf("training: %+v, %v", got, err)
	}
	real, err := l.Look(units.MagneticNorth, nil)
	if err != nil || real[0].Half <= got[0].Half {
		t.Errorf("the magnetic model adds nothing to %v: %v", got[0].Half.Deg(), real[0].Half.Deg())
	}
	undated, err := teach.NewLookout(reader(t, p.SetDate(plan.Date{})), at(0, 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	var none *teach.NoSuchNorth
	if _, err := undated.Look(units.MagneticNorth, nil); !errors.As(err, &none) {
		t.Errorf("got %v", err)
	}
}
