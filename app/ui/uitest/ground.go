package uitest

import (
	"strings"
	"testing"

	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/terrain"
)

// Ground opens made terrain under the sheets of a session, with posts so many metres apart. It
// takes the place of terrain that is open, and its file has that name.
func Ground(t testing.TB, s *session.Session, name string, stepE, stepN float64, height func(geodesy.Grid) float64) {
	t.Helper()
	low, high, ok := s.Reader().SheetsGround()
	if !ok {
		t.Fatal("the sheet is not calibrated")
	}
	tile := &terrain.Tile{
		Name: name, System: s.Reader().System(), NorthWest: geodesy.Grid{E: low.E, N: high.N}, StepE: stepE, StepN: stepN,
		Cols: int((high.E-low.E)/stepE) + 1, Rows: int((high.N-low.N)/stepN) + 1, UnitM: 1,
	}
	for row := range tile.Rows {
		for col := range tile.Cols {
			tile.Heights = append(tile.Heights, float32(height(geodesy.Grid{E: low.E + float64(col)*stepE, N: high.N - float64(row)*stepN})))
		}
	}
	m, err := terrain.NewModel(tile)
	if err == nil {
		err = s.RemoveTerrain()
	}
	if err == nil {
		err = s.OpenTerrain(plan.Terrain{Path: "/" + name, SHA256: strings.Repeat("0", 64)})
	}
	if err != nil {
		t.Fatal(err)
	}
	s.SetGround(s.Plan().Terrain, m)
}

// Lattice is a lattice over a picture with 10 m a pixel: lines each kilometre, 100 pixels
// apart, line (0, 0) at NL 21 42.
func Lattice() *lattice.Lattice {
	l := &lattice.Lattice{SquarePx: 100, WidthPx: 100, HeightPx: 100}
	for i := range 3 {
		for j := range 2 {
			l.Intersections = append(l.Intersections, lattice.Intersection{Col: 100 + 100*float64(i), Row: 200 - 100*float64(j), I: i, J: j, Quality: 0.9, SigmaPx: 0.2})
		}
	}
	return l
}
