package planfile_test

import (
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// TestTerrainIsWrittenAndRead: files of terrain with what a person said of them, and counted contours, keep
// through a file; paths inside the plan's folder are written relative to it, and those outside it must
// be asked about.
func TestTerrainIsWrittenAndRead(t *testing.T) {
	t.Parallel()
	dir, sum := t.TempDir(), strings.Repeat("5", 64)
	p := everything(t).SetTerrain([]plan.Terrain{
		{Path: filepath.Join(dir, "dem", "N57W005.hgt"), SHA256: sum},
		{Path: filepath.Join(dir, "..", "hills.asc"), SHA256: sum, Feet: true, Code: geodesy.EPSG(27700)},
		{Path: plan.EmbeddedPrefix + "isle.tif", SHA256: sum},
	})
	legs := p.Legs
	legs[0].Climb, legs[0].Descent = plan.Count(0), plan.Counted{}
	p = p.SetLeg(legs[0])
	path := filepath.Join(dir, "walk.legplan")
	stamp, err := planfile.NewStore().Save(path, p, plan.Overwrite{})
	must(t, err)
	got, _, err := planfile.NewStore().Load(path)
	must(t, err)
	if !reflect.DeepEqual(got.Terrain, p.Terrain) || got.Legs[0].Climb != plan.Count(0) || got.Legs[0].Descent.Known {
		t.Errorf("got %+v and %+v, want %+v and %+v", got.Terrain, got.Legs[0], p.Terrain, p.Legs[0])
	}
	if text := written(t, got); !strings.Contains(text, `"climb_m": 0`) {
		t.Errorf("a count of 0 is not written: %s", text)
	}
	reach := planfile.KnownIn(t.TempDir()).Reach(path, stamp, got)
	if len(reach.Ask) != 1 || filepath.Base(reach.Ask[0]) != "hills.asc" || !reach.Inside[p.Terrain[0].Path] {
		t.Errorf("got to ask %v, inside %v, want hills.asc asked and the other inside", reach.Ask, reach.Inside)
	}
}

// TestTerrainRefused: too many files, names and hashes that cannot be.
func TestTerrainRefused(t *testing.T) {
	t.Parallel()
	good := plan.Terrain{Path: "a.hgt", SHA256: strings.Repeat("5", 64)}
	for name, list := range map[string][]plan.Terrain{
		"no path": {{SHA256: good.SHA256}}, "no hash": {{Path: "a.hgt"}}, "twice": {good, good},
		"unknown grid": {{Path: "a.asc", SHA256: good.SHA256, Code: "EPSG:1"}},
		"too many":     make([]plan.Terrain, plan.MaxTerrain+1),
	} {
		if err := everything(t).SetTerrain(list).Validate(); err == nil {
			t.Errorf("%s: got no error", name)
		}
	}
	p := everything(t)
	leg := p.Legs[0]
	leg.Climb = plan.Count(-1)
	if err := p.SetLeg(leg).Validate(); err == nil {
		t.Error("a climb of −1 m: got no error")
	}
}
