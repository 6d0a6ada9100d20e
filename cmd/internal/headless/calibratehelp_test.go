package headless

import (
	"path/filepath"
	"regexp"
	"slices"
	"testing"
)

// keysOf lists the keys of what JSON was read into.
func keysOf(v any) (keys []string) {
	switch v := v.(type) {
	case map[string]any:
		for key, inner := range v {
			keys = append(append(keys, key), keysOf(inner)...)
		}
	case []any:
		for _, inner := range v {
			keys = append(keys, keysOf(inner)...)
		}
	}
	return keys
}

// TestCalibrateHelpNamesEveryKey: each key that the command writes stands in its
// help.
func TestCalibrateHelpNamesEveryKey(t *testing.T) {
	t.Parallel()
	words := regexp.MustCompile(`[a-z0-9_]+`).FindAllString(calibrateHelp, -1)
	auto := run(t, "", slices.Concat([]string{
		"calibrate", "--picture", placedDemo(t, "EPSG:27700", 0), "--auto", "--json", "--at", "100,100",
		"--rectify", filepath.Join(t.TempDir(), "up.png"), "--metres-per-pixel", "50",
	}, threeNames(), theCorner(t))...)
	wantCode(t, auto, 0)
	plain := run(t, "col,row,easting,northing\n", "calibrate", "--grid", "EPSG:27700", "--points", "-", "--json")
	wantCode(t, plain, 1)
	keys := append(keysOf(auto.object(t)), keysOf(plain.object(t))...)
	for _, must := range []string{"within_m", "grid_file", "median_px", "error"} {
		if !slices.Contains(keys, must) {
			t.Errorf("the runs of this test do not write %s", must)
		}
	}
	for _, key := range keys {
		if !slices.Contains(words, key) {
			t.Errorf("the help does not name the key %s", key)
		}
	}
}
