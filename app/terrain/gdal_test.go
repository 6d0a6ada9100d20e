package terrain_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// gdal runs one of GDAL's programs (Debian gdal-bin), the oracle of these tests, and skips without
// it.
func gdal(t *testing.T, name string, args ...string) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("%s is not installed (Debian package gdal-bin): no comparison with GDAL", name)
	}
	if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
}

func system(t testing.TB, code int) *geodesy.System {
	t.Helper()
	s, err := geodesy.Lookup(geodesy.EPSG(code))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// hills are posts of made ground: waves and noise, in eighths of a metre, of which sums are exact also in the
// single precision that gdaldem adds in.
func hills(t testing.TB, code, cols, rows int, northWest geodesy.Grid, stepE, stepN float64) *terrain.Tile {
	rng := rand.New(rand.NewPCG(4, 16))
	tile := &terrain.Tile{
		Name: "hills", System: system(t, code), NorthWest: northWest, StepE: stepE, StepN: stepN,
		Cols: cols, Rows: rows, UnitM: 1, Heights: make([]float32, cols*rows),
	}
	for i := range tile.Heights {
		c, r := float64(i%cols), float64(i/cols)
		tile.Heights[i] = float32(math.Round(8*(400+120*math.Sin(c/7)+90*math.Cos(r/5+c/11)+20*rng.Float64())) / 8)
	}
	return tile
}

// store writes a tile as GDAL's raw format with its place and grid, in printed units.
func store(t *testing.T, tile *terrain.Tile, epsg int) (name string) {
	t.Helper()
	dir := t.TempDir()
	bare, name := filepath.Join(dir, "bare.bin"), filepath.Join(dir, "posts.tif")
	var b bytes.Buffer
	if err := binary.Write(&b, binary.LittleEndian, tile.Heights); err != nil {
		t.Fatal(err)
	}
	head := fmt.Sprintf("ENVI\nsamples = %d\nlines = %d\nbands = 1\nheader offset = 0\ndata type = 4\ninterleave = bsq\nbyte order = 0\n", tile.Cols, tile.Rows)
	for file, data := range map[string][]byte{bare: b.Bytes(), filepath.Join(dir, "bare.hdr"): []byte(head)} {
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w, n := tile.System.InUnits(geodesy.Grid{E: tile.NorthWest.E - tile.StepE/2, N: tile.NorthWest.N + tile.StepN/2})
	se := tile.SouthEast()
	e, s := tile.System.InUnits(geodesy.Grid{E: se.E + tile.StepE/2, N: se.N - tile.StepN/2})
	args := []string{"-q", "-a_srs", fmt.Sprintf("EPSG:%d", epsg), "-a_ullr"}
	for _, v := range []float64{w, n, e, s} {
		args = append(args, fmt.Sprintf("%.12f", v))
	}
	gdal(t, "gdal_translate", append(args, bare, name)...)
	return name
}

// raw reads a picture of numbers that GDAL made as a raw file of float64.
func raw(t *testing.T, name string) []float64 {
	t.Helper()
	out := filepath.Join(t.TempDir(), "raw.bin")
	gdal(t, "gdal_translate", "-q", "-of", "ENVI", "-ot", "Float64", name, out)
	data, err := os.ReadFile(filepath.Clean(out))
	if err != nil {
		t.Fatal(err)
	}
	values := make([]float64, len(data)/8)
	if err := binary.Read(bytes.NewReader(data), binary.LittleEndian, values); err != nil {
		t.Fatal(err)
	}
	return values
}

func ground(t testing.TB, s *geodesy.System, tiles ...*terrain.Tile) terrain.Ground {
	t.Helper()
	m, err := terrain.NewModel(tiles...)
	if err != nil {
		t.Fatal(err)
	}
	return m.On(s)
}

// TestHeightsAgainstGDAL compares bilinear heights with gdalwarp, on the model's own grid
// and from another one on the same datum, within 1e-6 m. There the oracle itself is held to the
// micrometre of its projection, so slopes of 1 in 1 leave 2e-6 m.
func TestHeightsAgainstGDAL(t *testing.T) {
	t.Parallel()
	degree := func(lon, lat float64) geodesy.Grid { return system(t, 4326).FromUnits(lon, lat) }
	step := degree(1.0/1200, 0).E
	for _, c := range []struct {
		name     string
		tile     *terrain.Tile
		from, to int
		within   float64
		corner   geodesy.Grid
	}{
		{"own grid", hills(t, 32619, 60, 50, geodesy.Grid{E: 306015, N: 4916985}, 30, 30), 32619, 32619, 1e-6, geodesy.Grid{E: 306100, N: 4915600}},
		{"from degrees", hills(t, 4326, 60, 70, degree(-71.4, 44.3), step, step), 4326, 32619, 2e-6, geodesy.Grid{E: 310000, N: 4902600}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			name, out := store(t, c.tile, c.from), filepath.Join(t.TempDir(), "warped.tif")
			const cells, cell = 60, 13.0
			gdal(t, "gdalwarp", "-q", "-r", "bilinear", "-et", "0", "-wt", "Float64", "-ot", "Float64",
				"-t_srs", fmt.Sprintf("EPSG:%d", c.to), "-tr", "13", "13",
				"-te", fmt.Sprint(c.corner.E), fmt.Sprint(c.corner.N), fmt.Sprint(c.corner.E+cells*cell), fmt.Sprint(c.corner.N+cells*cell), name, out)
			g, worst := ground(t, system(t, c.to), c.tile), 0.0
			for i, want := range raw(t, out) {
				at := geodesy.Grid{E: c.corner.E + cell*(float64(i%cells)+0.5), N: c.corner.N + cell*(cells-float64(i/cells)-0.5)}
				got, ok := g.Height(at)
				if !ok {
					t.Fatalf("no height at %v, GDAL has %v", at, want)
				}
				worst = max(worst, math.Abs(got-want))
			}
			if worst > c.within {
				t.Errorf("heights: got up to %.3g m from GDAL's, want at most %g", worst, c.within)
			}
		})
	}
}

// TestSlopeAgainstGDAL compares slope and aspect at the posts of a projected model with
// gdaldem (Horn) within 0.001°. Its aspect takes cells for square, so oblong ones are compared by
// their slope alone.
func TestSlopeAgainstGDAL(t *testing.T) {
	t.Parallel()
	for _, stepN := range []float64{30, 20} {
		tile := hills(t, 32619, 60, 50, geodesy.Grid{E: 306015, N: 4916985}, 30, stepN)
		name, dir := store(t, tile, 32619), t.TempDir()
		slopes, aspects := filepath.Join(dir, "slope.tif"), filepath.Join(dir, "aspect.tif")
		gdal(t, "gdaldem", "slope", "-q", name, slopes)
		gdal(t, "gdaldem", "aspect", "-q", name, aspects)
		steep, falls := raw(t, slopes), raw(t, aspects)
		g := ground(t, tile.System, tile)
		for i := range steep {
			c, r := i%tile.Cols, i/tile.Cols
			got, ok := g.Slope(move(tile.NorthWest, tile.StepE*float64(c), -tile.StepN*float64(r)))
			if edge := c == 0 || r == 0 || c == tile.Cols-1 || r == tile.Rows-1; ok == edge {
				t.Fatalf("slope at post %d, %d: got ok %v at the edge %v", c, r, ok, edge)
			} else if edge {
				continue
			}
			off := math.Remainder(got.Downhill.Angle().Deg()-falls[i], 360)
			if math.Abs(got.Steep.Deg()-steep[i]) > 0.001 || stepN == 30 && math.Abs(off) > 0.001 {
				t.Fatalf("post %d, %d: got %.4f° toward %.4f°, want %.4f° toward %.4f°", c, r, got.Steep.Deg(), got.Downhill.Angle().Deg(), steep[i], falls[i])
			}
		}
	}
}
