package sheetview_test

import (
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/dial"
	"legwright/app/ui/sheetview"
	"legwright/app/units"
	"legwright/canvas/tool"
)

// With terrain the foot line says how high the ground under the pointer is.
func TestTheHeightFollowsThePointer(t *testing.T) {
	b, _, _ := withALeg(t)
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight})
	b.to(200, 100)
	if got := b.line.Pointer().Ref; strings.Contains(got, "high") {
		t.Errorf("without terrain the foot line says %q", got)
	}
	b.rises(t, 123, 123)
	b.to(210, 110)
	if got := b.line.Pointer().Ref; !strings.HasSuffix(got, ", 123 m high") {
		t.Errorf("the foot line says %q, want the height", got)
	}
}

// rises opens made terrain below the sheet: of one height along its west side, of another
// along its east side.
func (b *bench) rises(t *testing.T, west, east float32) {
	t.Helper()
	r := b.s.Reader()
	low, high, ok := r.SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	tile := &terrain.Tile{
		Name: "made", System: r.System(), NorthWest: low, StepE: high.E - low.E, StepN: high.N - low.N, Cols: 2, Rows: 2, UnitM: 1,
		Heights: []float32{west, east, west, east},
	}
	tile.NorthWest.N = high.N
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.s.OpenTerrain(plan.Terrain{Path: "/made.hgt", SHA256: strings.Repeat("0", 64)}); err != nil {
		t.Fatal(err)
	}
	b.s.SetGround(b.s.Plan().Terrain, m)
}

// A line that stays takes the time of its climb, as the ledger will once it is a leg; while
// it is dragged, and without terrain, its time says that it is flat.
func TestALineThatStaysTakesTheTimeOfItsClimb(t *testing.T) {
	b, _, _ := withALeg(t)
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight})
	walking := func() string { return b.dial.Figures().Texts[dial.Time] }
	b.drag(120, 220, 220, 220)
	flat := walking()
	if !strings.HasSuffix(flat, ", flat") {
		t.Fatalf("without terrain the line takes %q, want it called flat", flat)
	}
	b.view.Discard()
	b.rises(t, 0, 1000)
	b.drag(120, 220, 220, 220)
	from, to := b.view.Offer().Ends()
	g, err := b.s.Reader().Going("", b.s.Plan().Resolve(from), b.s.Plan().Resolve(to))
	if err != nil || g.Climb.M < 50 {
		t.Fatalf("the line climbs %+v, %v: want a hill", g, err)
	}
	if got := walking(); got != units.Minutes(g.Time) || got+", flat" == flat {
		t.Errorf("over a hill the line takes %q, want %q; flat it took %q", got, units.Minutes(g.Time), flat)
	}
	b.view.Offer().KeepSight()
	if got := walking(); got != units.Minutes(g.Time) {
		t.Errorf("the sight takes %q, want %q", got, units.Minutes(g.Time))
	}
}
