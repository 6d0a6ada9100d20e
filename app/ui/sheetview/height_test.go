package sheetview_test

import (
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy"
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
	if !strings.HasSuffix(flat, " if flat") {
		t.Fatalf("without terrain the line takes %q, want it to say so", flat)
	}
	b.view.Discard()
	b.rises(t, 0, 1000)
	b.drag(120, 220, 220, 220)
	from, to := b.view.Offer().Ends()
	g, err := b.s.Reader().Going("", b.s.Plan().Resolve(from), b.s.Plan().Resolve(to))
	if err != nil || g.Climb.M < 50 {
		t.Fatalf("the line climbs %+v, %v: want a hill", g, err)
	}
	if got := walking(); got != units.Minutes(g.Time) || got+" if flat" == flat {
		t.Errorf("over a hill the line takes %q, want %q; flat it took %q", got, units.Minutes(g.Time), flat)
	}
	b.view.Offer().KeepSight()
	if got := walking(); got != units.Minutes(g.Time) {
		t.Errorf("the sight takes %q, want %q", got, units.Minutes(g.Time))
	}
}

// leans opens made terrain below the sheet: a plane that rises to the east by so much a metre.
func (b *bench) leans(t *testing.T, rise float64) {
	t.Helper()
	r := b.s.Reader()
	low, high, ok := r.SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	const step = 50
	tile := &terrain.Tile{
		Name: "made", System: r.System(), NorthWest: geodesy.Grid{E: low.E - step, N: high.N + step}, StepE: step, StepN: step,
		Cols: int(high.E-low.E)/step + 3, Rows: int(high.N-low.N)/step + 3, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, float32(rise*step*float64(i%tile.Cols)))
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.s.OpenTerrain(plan.Terrain{Path: "/made.hgt", SHA256: strings.Repeat("0", 64)}); err != nil {
		t.Fatal(err)
	}
	b.s.SetGround(b.s.Plan().Terrain, m)
}

// A line over over-steep ground says so on the dial once it stays, before it is a leg and as one,
// whichever way it was dragged across the slope; as a way off it is a stop. A sight says nothing of
// it, for nobody walks it.
func TestOverSteepGroundSpeaksUpBeforeALegIsKept(t *testing.T) {
	for rise, steep := range map[float64]bool{0.3: false, 0.4: true} { // 16.7° and 21.8°: with posts 50 m apart 20° counts
		b, _, _ := withALeg(t)
		b.leans(t, rise)
		says := func(when string, want bool) {
			t.Helper()
			f := b.dial.Figures()
			if got := slices.Contains(f.Notes, "over-steep under the leg"); got != want || strings.Contains(f.Stop, "over-steep") {
				t.Errorf("rise %g, %s: stop %q, notes %q, want the note %v", rise, when, f.Stop, f.Notes, want)
			}
		}
		b.view.SetTool(sheetview.Tool{Kind: tool.Sight})
		b.drag(120, 220, 122, 120) // along the contour
		says("dragged", steep)
		b.view.Offer().KeepSight()
		says("as a sight", false)
		b.drag(120, 220, 220, 220)
		says("dragged again", steep)
		b.view.Offer().KeepLeg()
		says("as a leg", steep)
		b.view.SetTool(sheetview.Tool{Kind: tool.Sight, Off: true})
		b.drag(120, 220, 220, 220)
		if f := b.dial.Figures(); strings.Contains(f.Stop, "over-steep ground") != steep || slices.Contains(f.Notes, "over-steep under the leg") {
			t.Errorf("rise %g, as a way off: stop %q, notes %q", rise, f.Stop, f.Notes)
		}
		if got := strings.Contains(strings.Join(b.Texts(), " "), "over-steep ground"); got != steep {
			t.Errorf("rise %g: the strip of a way off names the ground: %v", rise, got)
		}
	}
}
