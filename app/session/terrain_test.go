package session

import (
	"errors"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// noSum is the shape of a file's hash.
var noSum = strings.Repeat("0", 64)

// slope is a model of a plane that rises by 1 in 10 to the east over the isle.
func slope(t testing.TB) *terrain.Model {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	must(t, err)
	tile := &terrain.Tile{
		Name: "plane", System: sys, NorthWest: geodesy.Grid{E: 50000, N: 800_000}, StepE: 100, StepN: 100, Cols: 101, Rows: 101, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, float32(10*(i%tile.Cols)))
	}
	m, err := terrain.NewModel(tile)
	must(t, err)
	return m
}

// typedLeg adds a leg between two references.
func typedLeg(t testing.TB, s *Session, from, to string) plan.ID {
	t.Helper()
	a, err := s.ParseEnd(from)
	must(t, err)
	b, err := s.ParseEnd(to)
	must(t, err)
	id, err := s.KeepLeg(a, b)
	must(t, err)
	return id
}

// TestTerrainIsReadAndForgotten: opening and removing terrain are one act each, and heights count only
// for the files that they were read from, whatever is undone.
func TestTerrainIsReadAndForgotten(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	typedLeg(t, s, "52000 795000", "54000 795000")
	file, m := plan.Terrain{Path: "/maps/isle.hgt", SHA256: noSum}, slope(t)
	climb := func() leg.Rise { return s.Rows()[0].Climb }
	must(t, s.OpenTerrain(file))
	if got, ok := s.Ground(); got != nil || ok || climb().Known() {
		t.Errorf("before the file is read: got %v, %v, climb %v", got, ok, climb())
	}
	s.SetGround(s.Plan().Terrain, m)
	if c := climb(); c.From != leg.RiseTerrain || c.M < 199 || c.M > 201 {
		t.Errorf("climb by terrain: got %v, want 200 m", c)
	}
	must(t, s.RemoveTerrain())
	if climb().Known() {
		t.Error("after the terrain was removed the leg has a climb")
	}
	if !s.Undo() || !climb().Known() {
		t.Error("undoing the removal does not bring the heights back")
	}
	if !s.Undo() || len(s.Plan().Terrain) != 0 || climb().Known() {
		t.Errorf("undoing the opening: got %v, climb %v", s.Plan().Terrain, climb())
	}
	must(t, s.OpenTerrain(file))
	feet := file
	feet.Feet = true
	must(t, s.OpenTerrain(feet))
	if list := s.Plan().Terrain; len(list) != 1 || !list[0].Feet || climb().Known() {
		t.Errorf("the same file in feet: got %v, climb %v", list, climb())
	}
	bad := (*plan.Invalid)(nil)
	if err := s.OpenTerrain(plan.Terrain{Path: "x", SHA256: "short"}); !errors.As(err, &bad) {
		t.Errorf("a hash that is none: got %v", err)
	}
}

// TestCountedContours: what a person types of climb and descent, and that it stands before terrain.
func TestCountedContours(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	id := typedLeg(t, s, "52000 795000", "54000 795000")
	for text, want := range map[string][2]plan.Counted{
		"7 x 10 / 3 x 10": {plan.Count(70), plan.Count(30)}, "7×10/0": {plan.Count(70), plan.Count(0)}, "3x 7.5 m / 12 M": {plan.Count(22.5), plan.Count(12)},
		"0 m/ 0": {plan.Count(0), plan.Count(0)}, "+70 −30": {plan.Count(70), plan.Count(30)},
		"": {}, "70 m": {plan.Count(70)}, "/ 3 x 10": {plan.Counted{}, plan.Count(30)},
	} {
		must(t, s.SetLegField(id, FieldClimb, ""))
		must(t, s.SetLegField(id, FieldClimb, text))
		if l := s.Plan().Legs[0]; l.Climb != want[0] || l.Descent != want[1] {
			t.Errorf("%q: got %v up, %v down, want %v", text, l.Climb, l.Descent, want)
		}
		shown := CountsText(want[0], want[1])
		if up, down, err := parseCounts(shown, plan.Counted{}); err != nil || up != want[0] || down != want[1] {
			t.Errorf("%q is shown as %q, which reads as %v up, %v down, %v", text, shown, up, down, err)
		}
	}
	for _, text := range []string{"7", "x", "7 x", "-3 m", "ten", "7 x ten", "1e9 m", "NaN m", "7 / 3", "70 m / three", "+ -", "70 m / 30 m / 5 m"} {
		before := s.Plan()
		if err := s.SetLegField(id, FieldClimb, text); err == nil || s.Plan() != before {
			t.Errorf("%q: got %v, want a refusal", text, err)
		}
	}
	must(t, s.OpenTerrain(plan.Terrain{Path: "/maps/isle.hgt", SHA256: noSum}))
	s.SetGround(s.Plan().Terrain, slope(t))
	must(t, s.SetLegField(id, FieldClimb, "/ 5 x 10"))
	row := s.Rows()[0]
	if row.Climb.From != leg.RiseTerrain || row.Descent != (leg.Rise{M: 50, From: leg.RiseCounted}) || !row.HasEnd || row.EndM < 399 || row.EndM > 401 {
		t.Errorf("got %+v up, %+v down, %g m at the end, want terrain, 50 counted, 400 m", row.Climb, row.Descent, row.EndM)
	}
}
