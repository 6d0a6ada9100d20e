package dem

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// hgt is a file of 3″ whose post in column c of row r is r − c, but for a void.
func hgt(voidCol, voidRow int) []byte {
	const side = 1201
	data := make([]byte, 0, 2*side*side)
	for r := range side {
		for c := range side {
			v := int16(r - c)
			if c == voidCol && r == voidRow {
				v = terrain.NoHeight
			}
			if v < terrain.Lowest && v != terrain.NoHeight {
				v = terrain.Lowest
			}
			data = binary.BigEndian.AppendUint16(data, uint16(v))
		}
	}
	return data
}

func open(data []byte, name string, want Want) (*terrain.Tile, error) {
	return Open(context.Background(), bytes.NewReader(data), int64(len(data)), name, want)
}

func system(t testing.TB, code int) *geodesy.System {
	t.Helper()
	s, err := geodesy.Lookup(geodesy.EPSG(code))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// degrees is where a position in degrees lies on the grid of .hgt files.
func degrees(t testing.TB, lon, lat float64) geodesy.Grid { return system(t, 4326).FromUnits(lon, lat) }

func ground(t testing.TB, tile *terrain.Tile) terrain.Ground {
	t.Helper()
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	return m.On(tile.System)
}

// TestHGT: corners and a void stand where the file's name says, in all four quarters of the world.
func TestHGT(t *testing.T) {
	t.Parallel()
	data := hgt(3, 1197)
	for name, at := range map[string]struct{ lon, lat float64 }{
		"N44W072.hgt": {-72, 44}, "s09e012.HGT": {12, -9}, "N00E000.hgt": {0, 0}, "S01W001.hgt": {-1, -1},
	} {
		tile, err := open(data, name, Want{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		g := ground(t, tile)
		for _, c := range []struct{ col, row, want float64 }{{0, 0, 0}, {1200, 1200, 0}, {0, 1200, 1200}, {200, 0, -200}, {7, 10, 3}} {
			h, ok := g.Height(degrees(t, at.lon+c.col/1200, at.lat+1-c.row/1200))
			if !ok || math.Abs(h-c.want) > 1e-6 {
				t.Errorf("%s, column %g of row %g: got %v, %v, want %g", name, c.col, c.row, h, ok, c.want)
			}
		}
		if h, ok := g.Height(degrees(t, at.lon+3.0/1200, at.lat+3.0/1200)); ok {
			t.Errorf("%s: the void has height %v", name, h)
		}
		if _, _, voids := tile.Range(); voids != 1 {
			t.Errorf("%s: got %d voids, want 1", name, voids)
		}
	}
}

// zipped is an archive of some files.
func zipped(t testing.TB, files map[string][]byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range files {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestWindow: of a file, plain or zipped, no more is read than the area and a post round it, and what is
// read is the same ground.
func TestWindow(t *testing.T) {
	t.Parallel()
	data := hgt(-1, -1)
	whole, err := open(data, "N44W072.hgt", Want{})
	if err != nil {
		t.Fatal(err)
	}
	a, err := terrain.AreaOf(whole.System, degrees(t, -71.5, 44.5), degrees(t, -71.4, 44.6), 0)
	if err != nil {
		t.Fatal(err)
	}
	archive := zipped(t, map[string][]byte{"readme.txt": []byte("no terrain"), "folder/N44W072.hgt": data})
	for name, file := range map[string][]byte{"N44W072.hgt": data, "box.zip": archive} {
		rows := 0
		tile, err := open(file, name, Want{Area: a, Progress: func(done, _ int) { rows = done }})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if tile.Cols < 123 || tile.Cols > 125 || tile.Rows != tile.Cols || rows != tile.Rows {
			t.Errorf("%s: got %d × %d posts and %d rows told, want 121 and a post or two round them", name, tile.Cols, tile.Rows, rows)
		}
		want, got := ground(t, whole), ground(t, tile)
		for lon := -71.5; lon < -71.4; lon += 0.0071 {
			at := degrees(t, lon, 44.517)
			x, _ := want.Height(at)
			if y, ok := got.Height(at); !ok || math.Abs(x-y) > 1e-6 {
				t.Errorf("%s at %.4f: got %v, %v, want %v", name, lon, y, ok, x)
			}
		}
	}
	elsewhere, err := terrain.AreaOf(system(t, 27700), geodesy.Grid{E: 227000, N: 743000}, geodesy.Grid{E: 229000, N: 745000}, terrain.AroundM)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := open(data, "N44W072.hgt", Want{Area: elsewhere}); !errors.Is(err, ErrElsewhere) {
		t.Errorf("other ground: got %v, want ErrElsewhere", err)
	}
}

// TestHGTRefused: names, sizes, archives and readers that give no terrain.
func TestHGTRefused(t *testing.T) {
	t.Parallel()
	data := hgt(-1, -1)
	high := bytes.Clone(data)
	binary.BigEndian.PutUint16(high[500:], 9500)
	for _, c := range []struct {
		what, name string
		data       []byte
		want       error
	}{
		{"no place in its name", "hill.hgt", data, ErrNotTerrain},
		{"no such latitude", "N91W072.hgt", data, ErrNotTerrain},
		{"no such letter", "X44W072.hgt", data, ErrNotTerrain},
		{"odd size", "N44W072.hgt", data[:len(data)-2], ErrDamaged},
		{"empty", "N44W072.hgt", nil, ErrDamaged},
		{"not terrain", "notes.txt", []byte("Dear all, the hut is open."), ErrNotTerrain},
		{"archive without terrain", "a.zip", zipped(t, map[string][]byte{"a.txt": nil}), ErrNotTerrain},
		{"archive of two", "a.zip", zipped(t, map[string][]byte{"N44W072.hgt": nil, "N44W073.hgt": nil}), ErrNotTerrain},
		{"short file in an archive", "a.zip", zipped(t, map[string][]byte{"N44W072.hgt": data[:90]}), ErrDamaged},
		{"cut archive", "a.zip", zipped(t, map[string][]byte{"N44W072.hgt": data})[:5000], ErrDamaged},
		{"above every mountain", "N44W072.hgt", high, ErrDamaged},
	} {
		if tile, err := open(c.data, c.name, Want{}); !errors.Is(err, c.want) || tile != nil {
			t.Errorf("%s: got %v, want %v", c.what, err, c.want)
		}
	}
	gone := errors.New("the drive is gone")
	if _, err := Open(context.Background(), failing{gone}, 2884802, "N44W072.hgt", Want{}); !errors.Is(err, gone) {
		t.Errorf("reader that fails: got %v", err)
	}
	ctx, stop := context.WithCancelCause(context.Background())
	enough := errors.New("enough")
	_, err := Open(ctx, bytes.NewReader(data), int64(len(data)), "N44W072.hgt", Want{Progress: func(done, _ int) {
		if done == 100 {
			stop(enough)
		}
		if done > 100 {
			t.Error("rows are read after the stop")
		}
	}})
	if !errors.Is(err, enough) {
		t.Errorf("stopped: got %v", err)
	}
}

type failing struct{ err error }

func (f failing) ReadAt([]byte, int64) (int, error) { return 0, f.err }

var _ io.ReaderAt = failing{}

// TestFeet: heights in feet come in metres, 9,500 of them are no mountain, and what lies below all dry ground
// is no ground.
func TestFeet(t *testing.T) {
	t.Parallel()
	data := hgt(-1, -1)
	binary.BigEndian.PutUint16(data, 9500)
	low := int16(-2000)
	binary.BigEndian.PutUint16(data[2:], uint16(low))
	tile, err := open(data, "N44W072.hgt", Want{Feet: true})
	if err != nil {
		t.Fatal(err)
	}
	g := ground(t, tile)
	if h, ok := g.Height(degrees(t, -72, 45)); !ok || math.Abs(h-2895.6) > 1e-6 {
		t.Errorf("9,500 feet: got %v, %v, want 2895.6 m", h, ok)
	}
	if h, ok := g.Height(degrees(t, -72+1.0/1200, 45)); ok {
		t.Errorf("2,000 feet below the sea: got %v, want none", h)
	}
}
