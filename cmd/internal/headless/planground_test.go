package headless

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// TestLegsOverTerrain: the demo's legs climb as its terrain says, and end on its heights.
func TestLegsOverTerrain(t *testing.T) {
	t.Parallel()
	legs := run(t, "", "legs", "demo", "--json")
	wantCode(t, legs, 0)
	for _, text := range []string{`"climb_m": `, `"end_height_m": 277.`} { // the third leg ends at the cairn
		if !strings.Contains(legs.out, text) || strings.Contains(legs.out, `"climb_m": null`) {
			t.Errorf("the legs hold no %s: %s", text, legs.out)
		}
	}
}

// A leg over over-steep ground says so wherever it is written, and marks nothing: the demo's fifth is
// 39° steep where it leaves the pass.
func TestSteepLegStandsEverywhere(t *testing.T) {
	t.Parallel()
	const says = "Over-steep, from 20 m into the leg: the terrain is up to 39° steep under the straight line."
	dir := t.TempDir()
	table, data := run(t, "", "legs", "demo"), run(t, "", "legs", "demo", "--json")
	texts := map[string]string{"table": table.out, "standard error": data.err, "JSON": data.out}
	for _, option := range []string{"--gpx", "--geojson", "--kml", "--csv"} {
		name := filepath.Join(dir, option)
		wantCode(t, run(t, "", "export", "demo", option, name), 0)
		raw, err := os.ReadFile(filepath.Clean(name))
		if err != nil {
			t.Fatal(err)
		}
		texts[option] = unescaped(string(raw))
	}
	for where, text := range texts {
		if !strings.Contains(text, says) {
			t.Errorf("%s lacks %q: %s", where, says, text)
		}
	}
	if !strings.Contains(data.out, `"code": "steep-leg"`) || strings.Contains(table.out, "\n5 STOP") || !strings.Contains(table.out, "\n5 ") {
		t.Errorf("the fifth leg is marked, or has no code: %s%s", table.out, data.out)
	}
}

// TestLegsOverMissingTerrain: a file that is gone, or was changed, is a caution, and its climbs are null.
func TestLegsOverMissingTerrain(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	changed := filepath.Join(dir, "changed.asc")
	text, err := os.ReadFile(filepath.Clean(terrainFile(t)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(changed, text, 0o600); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"gone.asc": "gone.asc", "changed.asc": "has changed"} {
		p := routePlan(t, outing).SetTerrain([]plan.Terrain{{Path: filepath.Join(dir, name), SHA256: strings.Repeat("0", 64), Code: geodesy.EPSG(27700)}})
		file := filepath.Join(dir, strings.TrimSuffix(name, ".asc")+planfile.Ext)
		if _, err := planfile.NewStore().Save(file, p, plan.Overwrite{}); err != nil {
			t.Fatal(err)
		}
		got := run(t, "", "legs", file, "--json")
		if got.code != 0 || !strings.Contains(got.err, want) || !strings.Contains(got.out, `"climb_m": null`) || !strings.Contains(got.out, `"code": "`+string(caution.NoTerrain)+`"`) {
			t.Errorf("%s: exit status %d, %q, %s", name, got.code, got.err, got.out)
		}
	}
}
