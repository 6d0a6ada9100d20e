package straight

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/calib"
)

// TestSave: both files or none; what was there stays whole after a failure.
func TestSave(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Similarity)
	f, err := FrameOf(s.Calibration, madeW, madeH, 6)
	if err != nil {
		t.Fatal(err)
	}
	gone, cancel := context.WithCancelCause(context.Background())
	stop := errors.New("given up")
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
		{"given up", gone, "a.png", map[string]string{"a.png": "old", "a.pgw": "old"}, "given up"},
		{"a .prj beside", context.Background(), "a.png", map[string]string{"a.prj": "old"}, "a.prj"},
		{"a .prj of the whole name", context.Background(), "a.png", map[string]string{"a.png.prj": "old"}, "a.png.prj"},
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
			err := Save(c.ctx, path, s, f, nil)
			if c.want == "" {
				for _, name := range Files(path) {
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
