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
