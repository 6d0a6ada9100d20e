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

// TestHelpNamesEveryKey: each key that a command writes is in its help, for rectify
// in that of the commands it refers to.
func TestHelpNamesEveryKey(t *testing.T) {
	t.Parallel()
	placed := locatedDemo(t, "EPSG:27700", 0)
	named := slices.Concat(threeNames(), theCorner(t))
	scan := written(t, cutScan(t))
	for _, c := range []struct {
		help string
		must []string
		code int
		args []string
	}{
		{locateHelp, []string{"within_m", "median_px", "corners", "outside_points_px"}, 0, append([]string{"locate", "--picture", placed, "--at", "100,100"}, named...)},
		{locateHelp + rectifyHelp, []string{"grid_file", "says"}, 0, append([]string{"rectify", "--picture", placed, "--out", filepath.Join(t.TempDir(), "up.png"), "--metres-per-pixel", "50"}, named...)},
		{findGridHelp, []string{"support", "seconds"}, 0, []string{"find-grid", "--picture", scan}},
		{findGridHelp, []string{"northing_m", "residuals"}, 0, []string{"find-grid", "--picture", scan, "--grid", "EPSG:27700", "--square", "1000", "--name", nearIntersection(26000, 742000) + "=NL2642"}},
		{fitHelp, []string{"bend_factor"}, 0, []string{"fit", "--grid", "EPSG:32619", "--points", pointsFile(t, fourPoints), "--at", "1,1"}},
		{identifyHelp, []string{"none_chance", "off_deg_sigma", "together"}, 0, []string{"identify", "--plan", "demo", "--from", "Cairn", "--bearing", "235 grid"}},
		{slipHelp, []string{"gma_deg", "advice", "too_small"}, 0, []string{"slip", "--right", "057 grid", "--said", "237 grid", "--gma", "12 east"}},
		{fitHelp, []string{"error"}, 1, []string{"fit", "--grid", "EPSG:27700", "--points", "-"}},
	} {
		words := regexp.MustCompile(`[a-z0-9_]+`).FindAllString(c.help, -1)
		got := run(t, "col,row,easting,northing\n", append(c.args, "--json")...)
		wantCode(t, got, c.code)
		keys := keysOf(got.object(t))
		for _, must := range c.must {
			if !slices.Contains(keys, must) {
				t.Errorf("%s does not write %s", c.args[0], must)
			}
		}
		for _, key := range keys {
			if !slices.Contains(words, key) {
				t.Errorf("the help of %s does not name the key %s", c.args[0], key)
			}
		}
	}
}
