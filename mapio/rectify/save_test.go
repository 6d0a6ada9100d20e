package rectify

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/atomicfile"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// TestSave: both files or none; what was there stays whole after a failure.
func TestSave(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	f, err := FrameOf(s.Calibration, madeW, madeH, 6)
	if err != nil {
		t.Fatal(err)
	}
	gone, cancel := context.WithCancelCause(context.Background())
	stop := errors.New("cancelled")
	cancel(stop)
	for _, c := range []struct {
		name  string
		ctx   context.Context
		file  string
		there map[string]string // beforehand
		want  string            // of the error, "" where both are written
	}{
		{"new", context.Background(), "a.png", nil, ""},
		{"over older ones", context.Background(), "a.jpg", map[string]string{"a.jpg": "old", "a.jgw": "old"}, ""},
		{"cancelled", gone, "a.png", map[string]string{"a.png": "old", "a.pgw": "old"}, "cancelled"},
		{"a JPEG cancelled", gone, "a.jpg", map[string]string{"a.jpg": "old", "a.jgw": "old"}, "cancelled"},
		{"a .prj beside", context.Background(), "a.png", map[string]string{"a.prj": "old"}, "a.prj"},
		{"a .prj of the whole name", context.Background(), "a.png", map[string]string{"a.png.prj": "old"}, "a.png.prj"},
		{"the same .prj beside", context.Background(), "a.png", map[string]string{"a.prj": gridText(s.System)}, ""},
		{"a .prj in capitals", context.Background(), "a.png", map[string]string{"A.PRJ": "old"}, "A.PRJ"},
		{"a world file in capitals", context.Background(), "a.png", map[string]string{"A.PGW": "old"}, "A.PGW"},
		{"a place of the whole name", context.Background(), "a.png", map[string]string{"a.png.aux.xml": "old"}, "a.png.aux.xml"},
		{"over the world file of another picture", context.Background(), "a.jpeg", map[string]string{"a.jpg": "old", "a.jgw": "old"}, "a.jpg already exists, and"},
		{"beside a picture without a place", context.Background(), "a.png", map[string]string{"a.jpg": "old"}, ""},
		{"beside one on the same grid", context.Background(), "a.png", map[string]string{"a.jpg": "old", "a.jgw": "old", "a.prj": gridText(s.System)}, ""},
		{"another ending", context.Background(), "a.tif", map[string]string{"a.tif": "old"}, ".png"},
		{"no folder", context.Background(), "none/a.png", nil, "a.png was not written"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			for name, text := range c.there {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			path := filepath.Join(dir, c.file)
			err := Save(c.ctx, path, s, f, false, nil)
			if c.want == "" {
				for _, name := range append(Files(path), GridFile(path, s.System)) {
					if b, err := os.ReadFile(name); err != nil || len(b) < 20 {
						t.Errorf("%s: %d bytes, %v", name, len(b), err)
					}
				}
			}
			if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
				t.Errorf("got error %v, want %q", err, c.want)
			}
			list, err := os.ReadDir(dir)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range list {
				if strings.HasPrefix(e.Name(), ".") {
					t.Errorf("%s was left behind", e.Name())
				}
				if b, _ := os.ReadFile(filepath.Join(dir, e.Name())); c.want != "" && string(b) != c.there[e.Name()] {
					t.Errorf("%s changed", e.Name())
				}
			}
		})
	}
}

// TestSaveKeepsWhatWasThere: where one of the files cannot be written, the older
// ones are there as they were.
func TestSaveKeepsWhatWasThere(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	f, err := FrameOf(s.Calibration, madeW, madeH, 6)
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{"a.png", "a.pgw"} {
		dir := t.TempDir()
		old := map[string]string{"a.png": "old", "a.pgw": "1\n0\n0\n-1\n5\n5\n", "a.prj": gridText(s.System)}
		delete(old, folder)
		if err := os.MkdirAll(filepath.Join(dir, folder, "full"), 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range old {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if err := Save(context.Background(), filepath.Join(dir, "a.png"), s, f, true, nil); err == nil || !strings.Contains(err.Error(), folder+" is a folder") {
			t.Errorf("a folder %s: got %v", folder, err)
		}
		for name, text := range old {
			if b, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(b) != text {
				t.Errorf("a folder %s: %s holds %q, %v; want it as it was", folder, name, b, err)
			}
		}
	}
}

// TestACrashLeavesNoWrongPlace: after each step of saving over an older picture
// the picture lies beside its own world file or beside none.
func TestACrashLeavesNoWrongPlace(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	frame := func(mpp float64) Frame {
		f, err := FrameOf(s.Calibration, madeW, madeH, mpp)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	older, newer := frame(12), frame(10)
	for done, placed := range []bool{true, false, false, true} {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.png")
		if err := Save(context.Background(), path, s, older, false, nil); err != nil {
			t.Fatal(err)
		}
		draw := func(w io.Writer) error { return Write(context.Background(), w, s, newer, PNG, nil) }
		steps := saving(path, gridText(s.System), newer.WorldFile(s.System), atomicfile.Options{}, draw)
		for _, step := range steps[:done] {
			if err := step(); err != nil {
				t.Fatal(err)
			}
		}
		got, err := scan.Open(context.Background(), os.DirFS(dir), "a.png", scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want := older
		if done > 0 {
			want = newer
		}
		world := georef.Find(got.Geo).World
		if got.Header.Width != want.Cols || (world != nil) != placed || placed && math.Abs(world.A-want.MetresPerPixel) > 1e-9 {
			t.Errorf("after %d of %d steps: %d columns with %+v, want %d with a world file %v", done, len(steps), got.Header.Width, world, want.Cols, placed)
		}
	}
}

// TestOpensCalibrated: picture, world file and definition of the grid position
// the picture with nothing asked; gdalinfo has the same position by the world file.
func TestOpensCalibrated(t *testing.T) {
	t.Parallel()
	feet, err := geodesy.Define("+proj=tmerc +lat_0=56 +lon_0=-7 +k=0.9999 +x_0=30000 +y_0=740000 +datum=OSGB36 +to_meter=0.3048 +title=Isle_survey")
	if err != nil {
		t.Fatal(err)
	}
	systems := []*geodesy.System{feet, system(t)}
	if testing.Short() {
		systems = systems[:1] // without -short also one in metres
	}
	for _, sys := range systems {
		s, points := made(t, askew, calib.Photograph)
		s.System = sys
		f, err := FrameOf(s.Calibration, madeW, madeH, 6)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		if err := Save(context.Background(), filepath.Join(dir, "a.png"), s, f, false, nil); err != nil {
			t.Fatal(err)
		}
		got, err := scan.Open(context.Background(), os.DirFS(dir), "a.png", scan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		by := georef.Find(got.Geo).Georeference
		if by == nil || by.System == nil || !by.System.Code().Alike(sys.Code()) {
			t.Fatalf("%v: placed by %+v", sys, by)
		}
		p, m := points[0].Ref, by.Matrix
		x, y := (p.E-f.West)/f.MetresPerPixel, (f.North-p.N)/f.MetresPerPixel
		if off := math.Hypot(m[0]*x+m[1]*y+m[2]-p.E, m[3]*x+m[4]*y+m[5]-p.N); off > 1e-6 {
			t.Errorf("%v: the position is %g m off", sys, off)
		}
		path, err := exec.LookPath("gdalinfo")
		if err != nil {
			t.Skip("gdalinfo (Debian package gdal-bin) is not installed")
		}
		out, err := exec.Command(path, filepath.Join(dir, "a.png")).Output()
		if err != nil {
			t.Fatal(err)
		}
		var west, north, right, down float64
		_, origin, _ := strings.Cut(string(out), "Origin = ")
		_, pixel, _ := strings.Cut(string(out), "Pixel Size = ")
		_, errOrigin := fmt.Sscanf(origin, "(%f,%f)", &west, &north)
		_, errPixel := fmt.Sscanf(pixel, "(%f,%f)", &right, &down)
		u, mpp := sys.Unit().Metres, f.MetresPerPixel
		if off := math.Abs(west*u-f.West) + math.Abs(north*u-f.North) + math.Abs(right*u-mpp) + math.Abs(down*u+mpp); errOrigin != nil || errPixel != nil || off > 1e-6 {
			t.Errorf("%v: gdalinfo has it %g m elsewhere\n%s", sys, off, out)
		}
	}
}
