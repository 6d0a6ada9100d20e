package dem

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/mapio/tiff"
)

// kind says that an error is one of the promised ones.
func kind(err error) bool {
	for _, k := range []error{
		ErrNotTerrain, ErrNoGrid, ErrElsewhere, ErrTooLarge, ErrDamaged, ErrUnit,
		tiff.ErrNotTIFF, tiff.ErrTruncated, tiff.ErrCorrupt, tiff.ErrUnsupported, tiff.ErrTooLarge,
	} {
		if errors.Is(err, k) {
			return true
		}
	}
	return false
}

// FuzzOpen: whatever the bytes, a tile of possible heights on the wanted ground, or an error of a
// promised kind.
func FuzzOpen(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("testdata", "seeds", "*"))
	if err != nil || len(files) < 3 {
		f.Fatalf("seeds in testdata: got %v, %v", files, err)
	}
	for _, name := range files {
		data, err := os.ReadFile(filepath.Clean(name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, filepath.Base(name))
	}
	f.Add([]byte(small), "small.asc")
	f.Add([]byte{0, 1, 255, 255}, "N44W072.hgt")
	s := system(f, britain)
	area, err := terrain.AreaOf(s, geodesy.Grid{E: 227000, N: 743000}, geodesy.Grid{E: 227100, N: 743100}, 10)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte, name string) {
		if len(data) > 1<<18 {
			return
		}
		for _, want := range []Want{{Grid: s.Code()}, {Grid: s.Code(), Feet: true, Area: area}} {
			tile, err := Open(t.Context(), bytes.NewReader(data), int64(len(data)), name, want)
			if err != nil {
				if !kind(err) {
					t.Fatalf("error of no promised kind: %v", err)
				}
				continue
			}
			if _, err := terrain.NewModel(tile); err != nil {
				t.Fatalf("a tile that is none: %v", err)
			}
			if low, high, voids := tile.Range(); voids < tile.Posts() && (low < terrain.Lowest-0.1 || high > terrain.Highest+0.1 || math.IsNaN(low+high)) {
				t.Fatalf("heights from %v to %v", low, high)
			}
		}
	})
}
