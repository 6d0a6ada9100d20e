package sheetview_test

import (
	"strings"
	"testing"

	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/sheetview"
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
	r := b.s.Reader()
	low, high, ok := r.SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	tile := &terrain.Tile{
		Name: "flat", System: r.System(), NorthWest: low, StepE: high.E - low.E, StepN: high.N - low.N, Cols: 2, Rows: 2, UnitM: 1,
		Heights: []float32{123, 123, 123, 123},
	}
	tile.NorthWest.N = high.N
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.s.OpenTerrain(plan.Terrain{Path: "/flat.hgt", SHA256: strings.Repeat("0", 64)}); err != nil {
		t.Fatal(err)
	}
	b.s.SetGround(b.s.Plan().Terrain, m)
	b.to(210, 110)
	if got := b.line.Pointer().Ref; !strings.HasSuffix(got, ", 123 m high") {
		t.Errorf("the foot line says %q, want the height", got)
	}
}
