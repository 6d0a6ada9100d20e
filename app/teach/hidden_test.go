package teach_test

import (
	"math"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/terrain"
	"legwright/app/units"
)

// overRidge is a reader over a ridge that runs north and south 1000 m east of the middle
// of the ground: 100 m high, its sides a metre in two, on a plain at 50 m that ends 3000 m
// east of the middle.
func overRidge(t *testing.T, p *plan.Plan) *leg.Reader {
	t.Helper()
	sys, err := geodesy.Lookup(grid)
	if err != nil {
		t.Fatal(err)
	}
	const step, cols, rows = 25, 241, 241
	tile := &terrain.Tile{
		Name: "ridge", System: sys, NorthWest: geodesy.Grid{E: eastM - 3000, N: northM + 3000}, StepE: step, StepN: step, Cols: cols, Rows: rows, UnitM: 1,
	}
	for i := range cols * rows {
		east := -3000 + step*float64(i%cols)
		tile.Heights = append(tile.Heights, float32(50+max(0, 100-math.Abs(east-1000)/2)))
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	return reader(t, p).Over(m)
}

// From the plain, the ridge hides what lies behind it and not what stands on it; of what
// lies beyond the terrain nothing is claimed, nor of anything without terrain. Chances and
// verdicts are those without terrain: that may be wrong. By hand: 1000 m off the ground is
// 100 m higher than the eye's line. That to A runs over the plain less than 1.7 m above it:
// doubtful, as in the list of what can be seen.
func TestGroundHidesFeatures(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), at(500, 0, 1), at(990, 0, 1), at(2000, 0, 1), at(4000, 0, 1))
	from, b, half := at(0, 0, 1), teach.Bearing{Angle: deg(90), North: units.GridNorth}, deg(5)
	bare, err := teach.Identify(reader(t, p), from, b, half, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := teach.Identify(overRidge(t, p), from, b, half, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]teach.Cover{"A": teach.CoverUnknown, "B": teach.Uncovered, "C": teach.Covered, "D": teach.CoverUnknown}
	for i, c := range got.Candidates {
		if c.Cover != want[c.Name] || (c.Cover == teach.Covered) != (math.Abs(c.CoverM-1000) < 30) {
			t.Errorf("%s: cover %v by ground %.0f m off, want %v", c.Name, c.Cover, c.CoverM, want[c.Name])
		}
		if says := strings.Contains(c.Text, "hides it"); says != (c.Name == "C") {
			t.Errorf("%s %s", c.Name, c.Text)
		}
		if o := bare.Candidates[i]; o.Name != c.Name || o.Chance != c.Chance || o.Verdict != c.Verdict || o.Cover != teach.CoverUnknown {
			t.Errorf("%s: %v %.3f over terrain, %s: %v %.3f, cover %v without", c.Name, c.Verdict, c.Chance, o.Name, o.Verdict, o.Chance, o.Cover)
		}
	}
	if !strings.Contains(got.Text, "According to the terrain, higher ground hides C.") || strings.Contains(bare.Text, "hides") {
		t.Errorf("over terrain: %q; without: %q", got.Text, bare.Text)
	}
	look, err := teach.NewLookout(overRidge(t, p), from)
	if err != nil {
		t.Fatal(err)
	}
	list, err := look.Look(b.North, nil)
	if err != nil || list[2].Cover != teach.Covered || !strings.Contains(list[2].Text, "hides it") {
		t.Errorf("without a ray: %+v, %v", list[2], err)
	}
	on, err := teach.Identify(overRidge(t, p), at(1000, 0, 1), b, half, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range on.Candidates {
		if c.Cover == teach.Covered {
			t.Errorf("from the ridge %s %s", c.Name, c.Text)
		}
	}
}

// Of two people before the ridge and behind it only one can see the feature at its far
// foot, and both sentence and row say from whom it is hidden.
func TestGroundHidesFromOne(t *testing.T) {
	t.Parallel()
	p := marked(plan.New(today()), at(1500, 0, 1))
	a := teach.Sighting{From: at(0, -500, 1), Bearing: teach.Bearing{Angle: deg(71.6), North: units.GridNorth}, Tolerance: deg(5)}
	b := teach.Sighting{From: at(2000, -500, 1), Bearing: teach.Bearing{Angle: deg(315), North: units.GridNorth}, Tolerance: deg(5)}
	for _, c := range []struct {
		r    *leg.Reader
		want string
	}{{overRidge(t, p), "hidden from the first"}, {reader(t, p), ""}} {
		m, err := teach.SameFeature(c.r, a, b, nil)
		if err != nil {
			t.Fatal(err)
		}
		if m.Verdict != teach.Likely || m.Fits[0].Verdict != teach.Likely {
			t.Fatalf("verdict %v: the test tries nothing", m.Verdict)
		}
		if row := m.Fits[0].Text; strings.Contains(row, "hidden") != (c.want != "") || !strings.Contains(row, c.want) {
			t.Errorf("the row says %q, want %q", row, c.want)
		}
		if says := strings.Contains(m.Text, "higher ground hides A from the first."); says != (c.want != "") {
			t.Errorf("the sentence is %q", m.Text)
		}
	}
}
