package headless

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// planOver saves a plan on a plane that rises 10 m every 50 m to the east, with a ridge 100 m
// high at easting 228 000 and no heights north of northing 745 000.
func planOver(t *testing.T, p *plan.Plan) string {
	t.Helper()
	const cols, rows = 61, 61
	var text strings.Builder
	fmt.Fprintf(&text, "ncols %d\nnrows %d\nxllcenter 227000\nyllcenter 743000\ncellsize 50\nNODATA_value -1\n", cols, rows)
	for row := range rows {
		for col := range cols {
			h := 100 + 10*col
			switch {
			case 50*(rows-1-row) > 2000:
				h = -1
			case col == 20:
				h += 100
			}
			fmt.Fprint(&text, h, " ")
		}
		text.WriteByte('\n')
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "ridge.asc"), []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256([]byte(text.String()))
	return savedIn(t, dir, p.SetTerrain([]plan.Terrain{{Path: "ridge.asc", SHA256: hex.EncodeToString(sum[:]), Code: geodesy.EPSG(27700)}}))
}

// ridgePlan has legs along the plane, over the ridge, and off the terrain.
func ridgePlan() *plan.Plan {
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "typed"}
	}
	p := plan.New(outing)
	var ends []plan.End
	for i, pos := range []plan.Position{at(227_200, 744_000), at(227_700, 744_000), at(228_400, 744_000), at(228_400, 745_400)} {
		m := plan.Mark{ID: p.NextID(plan.OfMark), Name: string(rune('P' + i)), Position: pos}
		p, ends = p.AddMark(m), append(ends, plan.AtMark(m))
	}
	for i := range 3 {
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: ends[i], To: ends[i+1]})
	}
	return p
}

// On the plane leg 1 climbs 100 m in 500. Leg 2 climbs 60 m, then 100 + 10 m to the ridge,
// falls by 90 and climbs 70: at 228 000 the ridge stands 100 m over the plane. Leg 3 runs off
// the terrain: its figures are null, and its heights are null from there on.
func TestProfile(t *testing.T) {
	t.Parallel()
	got := run(t, "", "profile", planOver(t, ridgePlan()), "--json")
	wantCode(t, got, 0)
	var legs []struct {
		ClimbM   any `json:"climb_m"`
		DescentM any `json:"descent_m"`
		Voids    int `json:"points_without_terrain"`
		Points   []struct {
			AlongM  float64  `json:"along_m"`
			HeightM *float64 `json:"height_m"`
		}
		Cautions []spoken
	}
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 3 {
		t.Fatalf("%v: %s", err, got.out)
	}
	if up, ok := legs[0].ClimbM.(float64); !ok || legs[0].DescentM != 0.0 || len(legs[0].Points) != 31 { // 499.8 m of ground at 50/3 m, and the start
		t.Errorf("leg 1 climbs %v, descends %v at %d points", legs[0].ClimbM, legs[0].DescentM, len(legs[0].Points))
	} else {
		wantNear(t, "climb of leg 1", up, 100, 1e-6)
	}
	first, last := legs[0].Points[0], legs[0].Points[len(legs[0].Points)-1]
	wantNear(t, "height of its start", *first.HeightM, 140, 1e-6)
	wantNear(t, "height of its end", *last.HeightM, 240, 1e-6)
	up, down := legs[1].ClimbM.(float64), legs[1].DescentM.(float64)
	wantNear(t, "climb less descent of leg 2", up-down, 140, 1e-6)
	if down < 60 || down > 90 { // points of the profile miss the edge of the ridge by 8 m at most
		t.Errorf("leg 2 descends %g m behind the ridge", down)
	}
	off := legs[2]
	if off.ClimbM != nil || off.DescentM != nil || off.Voids == 0 || off.Points[len(off.Points)-1].HeightM != nil || off.Points[0].HeightM == nil {
		t.Errorf("leg 3 off the terrain: %+v", off)
	}
	if !strings.Contains(got.err, "leg 3: The terrain does not cover the whole of this leg") || !strings.Contains(got.err, "Crags lower than about 40 m") {
		t.Errorf("the standard error says %s", got.err)
	}
	if table := run(t, "", "profile", planOver(t, ridgePlan())); !strings.Contains(table.out, "?") || !strings.Contains(table.out, "100 m") {
		t.Errorf("table:\n%s", table.out)
	}
	bare := run(t, "", "profile", savePlan(t, ridgePlan()), "--json")
	if bare.code != 0 || !strings.Contains(bare.err, "no terrain") || !strings.Contains(bare.out, `"points": []`) {
		t.Errorf("without terrain: %d %s %s", bare.code, bare.err, bare.out)
	}
}

// From P the ridge hides R, until the eye is lifted. S lies off the terrain, and nobody knows.
// Between P and Q the ground is a plane, 1.7 m and less below the line of sight: doubtful.
func TestVisible(t *testing.T) {
	t.Parallel()
	file := planOver(t, ridgePlan())
	look := func(args ...string) map[string]any {
		got := run(t, "", append([]string{"visible", file, "--json"}, args...)...)
		wantCode(t, got, 0)
		var o struct {
			Marks []map[string]any
		}
		if err := json.Unmarshal([]byte(got.out), &o); err != nil || len(o.Marks) != 3 {
			t.Fatalf("%v: %s", err, got.out)
		}
		seen := map[string]any{}
		for _, m := range o.Marks {
			seen[m["mark"].(string)] = m["visible"]
			if m["visible"] == false && m["clearance_m"].(float64) >= 0 || m["visible"] == nil && m["clearance_m"] != nil && m["doubtful"] != true {
				t.Errorf("%v", m)
			}
		}
		return seen
	}
	if got := look("--from", "P"); got["Q"] != nil || got["R"] != false || got["S"] != nil {
		t.Errorf("from P: %v", got)
	}
	if table := run(t, "", "visible", file, "--from", "P").out; !strings.Contains(table, "Q     doubtful") || strings.Contains(table, "visible") {
		t.Errorf("table:\n%s", table)
	}
	if got := look("--from", "p", "--eye", "900"); got["Q"] != true || got["R"] != true {
		t.Errorf("from 900 m above P: %v", got)
	}
	bare := run(t, "", "visible", savePlan(t, ridgePlan()), "--from", "P")
	if bare.code != 1 || !strings.Contains(bare.err, "terrain") {
		t.Errorf("without terrain: %d %s", bare.code, bare.err)
	}
	wantCode(t, run(t, "", "visible", file), 2)
	wantCode(t, run(t, "", "visible", file, "--from", "Nowhere"), 1)
	wantCode(t, run(t, "", "visible", file, "--from", "P", "--eye", "-1"), 2)
}
