package datum

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"sync"
	"testing"

	datums "legwright/assets/datum"
)

// Every embedded value equals the Debian package's, where that is installed.
func TestOSTN15Embedded(t *testing.T) {
	t.Parallel()
	const folder = "/usr/share/perl5/auto/share/dist/Geo-Coordinates-OSGB"
	east, errE := os.ReadFile(filepath.Join(folder, "ostn_east_shift_82140"))
	north, errN := os.ReadFile(filepath.Join(folder, "ostn_north_shift_-84180"))
	if errE != nil || errN != nil {
		t.Skip("Debian package libgeo-coordinates-osgb-perl is not installed")
	}
	g := openShiftGrid(datums.OSTN15())
	if g.cols != 701 || g.rows != 1251 || g.baseE != 82140 || g.baseN != -84180 {
		t.Fatalf("header: %d by %d, base %g, %g", g.cols, g.rows, g.baseE, g.baseN)
	}
	for i := range g.cols * g.rows {
		x, y := i%g.cols, i/g.cols
		mm := g.band(y / g.bandRows)[(y%g.bandRows*g.cols+x)*2:]
		if mm[0] != binary.LittleEndian.Uint16(east[2*i:]) || mm[1] != binary.LittleEndian.Uint16(north[2*i:]) {
			t.Fatalf("node %d, %d: got %d, %d", x, y, mm[0], mm[1])
		}
	}
}

// All bands decoded take 3.6 MB.
func TestOSTN15Memory(t *testing.T) {
	t.Parallel()
	g := openShiftGrid(datums.OSTN15())
	bytes := 0
	for i := range g.bands {
		bytes += 2 * len(g.band(i))
	}
	if bytes > 4<<20 {
		t.Errorf("decoded shifts take %d bytes, want at most 4 MiB", bytes)
	}
}

// Bands decode once however many ask at the same time.
func TestShiftGridIsShared(t *testing.T) {
	t.Parallel()
	g := openShiftGrid(datums.OSTN15())
	wantE, wantN := ostnShifts().at(250500, 745500)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for row := 0.0; row < 1250; row += 40 {
				g.at(350500, row*1000)
			}
			if e, n := g.at(250500, 745500); e != wantE || n != wantN {
				t.Errorf("got %g, %g, want %g, %g", e, n, wantE, wantN)
			}
		})
	}
	wg.Wait()
}
