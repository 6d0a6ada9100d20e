package dem

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/assets/demo"
)

// demoTile is the terrain of the demo.
func demoTile(t testing.TB) *terrain.Tile {
	t.Helper()
	data := demo.Terrain()
	tile, err := Open(t.Context(), bytes.NewReader(data), int64(len(data)), demo.TerrainName, Want{})
	if err != nil {
		t.Fatal(err)
	}
	return tile
}

// TestDemoTerrainIsTheSheets: the marks of the demo stand on the heights that its sheet draws: the quay at the
// sea, the pillar on a top, the col below it.
func TestDemoTerrainIsTheSheets(t *testing.T) {
	t.Parallel()
	g, at := ground(t, demoTile(t)), map[demo.Feature]float64{}
	for _, m := range demo.Marks() {
		h, ok := g.Height(geodesy.Grid{E: m.E, N: m.N})
		if !ok {
			t.Fatalf("%s stands on no terrain", m.Name)
		}
		at[m.Feature] = h
	}
	if at[demo.Quay] > 10 || at[demo.TrigPillar] < 300 || at[demo.Col] < 200 || at[demo.Col] > at[demo.TrigPillar] {
		t.Errorf("heights: got %v", at)
	}
}

// TestClimbOnNoisyPosts: over 12 km of the demo's ground the climb from posts 30 m apart with 1 m of noise is
// within 5 % of that of the same line on the ground without noise, asked each metre.
func TestClimbOnNoisyPosts(t *testing.T) {
	t.Parallel()
	truth := demoTile(t)
	clean := ground(t, truth)
	for seed := range uint64(5) {
		rng := rand.New(rand.NewPCG(16, seed))
		posts := &terrain.Tile{
			Name: "noisy", System: truth.System, NorthWest: truth.NorthWest, StepE: 30, StepN: 30, Cols: 434, Rows: 267, UnitM: 1,
		}
		for i := range posts.Cols * posts.Rows {
			h, ok := clean.Height(geodesy.Grid{E: truth.NorthWest.E + 30*float64(i%posts.Cols), N: truth.NorthWest.N - 30*float64(i/posts.Cols)})
			if !ok {
				t.Fatal("the posts leave the ground")
			}
			posts.Heights = append(posts.Heights, float32(h+rng.NormFloat64()))
		}
		noisy := ground(t, posts)
		var lengthM, want, got float64
		marks := demo.Marks()
		for round := 0; lengthM < 12_000; round++ {
			a, b := marks[round%len(marks)], marks[(round+3)%len(marks)]
			from, to := geodesy.Grid{E: a.E, N: a.N}, geodesy.Grid{E: b.E, N: b.N}
			exact, coarse := clean.Profile(from, to, 1), noisy.Profile(from, to, 0)
			up, _, ok := exact.Climb()
			upNoisy, _, okNoisy := coarse.Climb()
			if !ok || !okNoisy {
				t.Fatalf("from %s to %s: no climb", a.Name, b.Name)
			}
			lengthM, want, got = lengthM+exact.LengthM(), want+up, got+upNoisy
		}
		if t.Logf("%.1f km: %.0f m, with noise %.0f m", lengthM/1000, want, got); math.Abs(got/want-1) > 0.05 {
			t.Errorf("seed %d: got a climb of %.0f m, want %.0f m within 5 %%", seed, got, want)
		}
	}
}

// BenchmarkOpenHGT is the reading of a file of 1″ whole.
func BenchmarkOpenHGT(b *testing.B) {
	data := make([]byte, 2*3601*3601)
	for b.Loop() {
		if _, err := open(data, "N44W072.hgt", Want{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkProfiles is that of 60 legs of 500 m on another grid than the terrain's.
func BenchmarkProfiles(b *testing.B) {
	data := demo.Terrain()
	tile, err := Open(b.Context(), bytes.NewReader(data), int64(len(data)), demo.TerrainName, Want{})
	if err != nil {
		b.Fatal(err)
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		b.Fatal(err)
	}
	sys := system(b, 32629)
	g := m.On(sys)
	from, _, _, err := sys.FromWGS84(geodesy.DegLatLon(56.43, -8.01))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for i := range 60 {
			sin, cos := math.Sincos(float64(i))
			g.Profile(from, geodesy.Grid{E: from.E + 500*sin, N: from.N + 500*cos}, 0).Climb()
		}
	}
}
