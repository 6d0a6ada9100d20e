package headless

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// jsonStops writes STOP where a reading in JSON has one.
func jsonStops(t *testing.T, text string) string {
	t.Helper()
	var legs []struct{ Cautions []spoken }
	if !strings.HasPrefix(text, "[") {
		text = "[" + text + "]"
	}
	if err := json.Unmarshal([]byte(text), &legs); err != nil || len(legs) != 1 {
		t.Fatalf("%v: %s", err, text)
	}
	for _, c := range legs[0].Cautions {
		if c.stops() {
			return "STOP"
		}
	}
	return ""
}

// typedEnd is the end of a leg at a reference of the National Grid.
func typedEnd(t *testing.T, text string) plan.End {
	t.Helper()
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: system})
	if err != nil {
		t.Fatal(err)
	}
	return plan.AtPosition(plan.TypedAs(text, ref))
}

// otherFormats adds the first words of what GeoJSON, KML and CSV say of the plan, of its leg and of
// the ledger's row.
func otherFormats(t *testing.T, file string, out map[string]string) {
	t.Helper()
	text := map[string]string{}
	for _, f := range []string{"geojson", "kml", "csv"} {
		name := filepath.Join(t.TempDir(), "walk."+f)
		if got := run(t, "", "export", file, "--"+f, name); got.code != 0 {
			t.Fatal(got.err)
		}
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text[f] = string(raw)
	}
	var g struct {
		Description string
		Features    []struct{ Properties map[string]any }
	}
	if err := json.Unmarshal([]byte(text["geojson"]), &g); err != nil || len(g.Features) == 0 {
		t.Fatalf("%v: %s", err, text["geojson"])
	}
	of := g.Features[slices.IndexFunc(g.Features, func(f struct{ Properties map[string]any }) bool { return f.Properties["legwright"] == "leg" })].Properties
	out["GeoJSON file"], out["GeoJSON leg"], out["GeoJSON leg's stop"] = g.Description, fmt.Sprint(of["description"]), ""
	out["GeoJSON about"] = fmt.Sprint(of["about"])
	if of["stop"] != nil {
		out["GeoJSON leg's stop"] = fmt.Sprint(of["stop"])
	}
	inside := func(text, tag string) string {
		_, text, _ = strings.Cut(text, "<"+tag+">")
		text, _, _ = strings.Cut(text, "</"+tag+">")
		return text
	}
	legs := inside(text["kml"][strings.Index(text["kml"], "<name>legs</name>"):], "Placemark")
	out["KML file"], out["KML leg's name"], out["KML leg"] = inside(text["kml"], "description"), inside(legs, "name"), inside(legs, "description")
	_, out["CSV row"], _ = strings.Cut(text["csv"], "\n")
}

// A stop goes every way by which a headless command gives a reading away, first or as
// the row's mark, and goes with its cause. The rectified map and GPX of a stopped sheet
// have tests of their own; here the GPX is that of a leg too short for its ends.
func TestAStopGoesEveryHeadlessWay(t *testing.T) {
	t.Parallel()
	for _, stop := range []bool{true, false} {
		far := "NN 250 790"
		if stop {
			far = "NN 221 772" // 100 m off, in a square of 100 m
		}
		p := routePlan(t, outing)
		p = p.Remove(p.Legs[1].ID)
		from, to := typedEnd(t, "NN 220 772"), typedEnd(t, far)
		p = p.SetLeg(plan.Leg{ID: p.Legs[0].ID, From: from, To: to})
		file := savePlan(t, p)
		gpx := filepath.Join(t.TempDir(), "walk.gpx")
		out := map[string]string{}

		legs := run(t, "", "legs", file)
		out["legs"], out["standard error of legs"] = legs.out, legs.err
		_, row, _ := strings.Cut(legs.out, "\n1 ")
		out["row of legs"] = row
		out["JSON of legs"] = jsonStops(t, run(t, "", "legs", file, "--json").out)
		export := run(t, "", "export", file, "--gpx", gpx, "--track")
		out["standard error of export"] = export.err
		raw, err := os.ReadFile(gpx)
		if err != nil {
			t.Fatal(err)
		}
		for _, tag := range []string{"rte", "rtept", "trk"} {
			_, rest, _ := strings.Cut(string(raw), "<"+tag)
			for _, part := range []string{"name", "desc", "cmt"} {
				_, text, _ := strings.Cut(strings.Split(rest, "<"+map[string]string{"rte": "rtept", "rtept": "/rtept", "trk": "trkseg"}[tag])[0], "<"+part+">")
				out["GPX "+tag+"'s "+part] = text
			}
		}
		_, about, _ := strings.Cut(string(raw), "<desc>")
		out["GPX file's desc"] = about
		otherFormats(t, file, out)
		delete(out, "GeoJSON about") // what speaks against the whole, without its stops
		out["sight"] = sight(t, "EPSG:27700", "NN 220 772", far).out
		out["JSON of sight"] = jsonStops(t, sight(t, "EPSG:27700", "NN 220 772", far, "--json").out)
		grid, ends := "5041", "2000000 2000500 2000100 2000000\n" // beside the magnetic pole
		if !stop {
			grid, ends = "27700", "220000 772000 213000 758000\n"
		}
		batch := run(t, ends, "sight", "--grid", grid, "--date", onTheDay, "--batch")
		fields := strings.Split(strings.TrimSpace(batch.out), "\t")
		out["row of the batch"], out["standard error of the batch"] = "", batch.err
		if len(fields) > 5 {
			out["row of the batch"] = fields[5]
		}
		for way, text := range out {
			low := strings.ToLower(text)
			if first := strings.HasPrefix(low, "stop") || strings.HasPrefix(low, "!"); first != stop {
				t.Errorf("stop %v, %s: %.120q", stop, way, text)
			}
			if !stop && strings.Contains(low, "stop") {
				t.Errorf("without a stop %s still says one: %.200q", way, text)
			}
		}
	}
}
