package headless

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// cautioned is a plan with one leg between two marks, and the cautions it must have.
type cautioned struct {
	name  string
	plan  *plan.Plan
	codes []caution.Code // of the leg; none where nothing speaks against it
	mark  bool           // the second mark by itself cannot be trusted either
}

// sound is a sheet at 5 m a pixel with six points, checked by a pillar.
func sound(t *testing.T, kind calib.Medium) plan.Sheet {
	t.Helper()
	at := func(col, row float64) calib.ControlPoint {
		return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: 50_000 + 5*col, N: 800_000 - 5*row}, Text: "read"}
	}
	s := plan.Sheet{
		ID: "sheet-1", Picture: "south.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), Medium: kind,
		Points: []calib.ControlPoint{at(200, 200), at(1400, 200), at(1400, 1400), at(200, 1400), at(800, 600), at(600, 1000)},
	}
	return received(t, s, 1052, 374)
}

// received is a sheet at 5 m a pixel, whose top-left corner lies at E 50 000 N 800 000,
// with a receiver's latitude and longitude of a position as evidence.
func received(t *testing.T, s plan.Sheet, col, row float64) plan.Sheet {
	t.Helper()
	sys, err := geodesy.Lookup(s.Code)
	if err != nil {
		t.Fatal(err)
	}
	g := geodesy.Grid{E: 50_000 + 5*col, N: 800_000 - 5*row}
	ll, _, err := sys.ToWGS84(g)
	if err != nil {
		t.Fatal(err)
	}
	return s.WithEvidence(calib.Evidence{
		Source: calib.FromReceiver, At: calib.PicturePt{Col: col, Row: row}, SigmaPx: 0.5, Text: geodesy.FormatLatLon(ll), LatLon: true, Ref: g,
	})
}

func legOf(p *plan.Plan, a, b plan.Position) *plan.Plan {
	one, two := plan.Mark{ID: "mark-1", Name: "One", Position: a}, plan.Mark{ID: "mark-2", Name: "Two", Position: b}
	return p.AddMark(one).AddMark(two).AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(one), To: plan.AtMark(two)})
}

func pickedOn(t *testing.T, s plan.Sheet, col, row float64) plan.Position {
	t.Helper()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	return plan.PickedAt(s, c, calib.PicturePt{Col: col, Row: row}, 0.5)
}

func cautionedPlans(t *testing.T) []cautioned {
	t.Helper()
	day := plan.Date{Year: 2026, Month: time.November, Day: 28}
	typed := func(code geodesy.Code, e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: code, Origin: plan.Typed, Text: "typed"}
	}
	gb := geodesy.EPSG(27700)
	good := sound(t, calib.Scan)
	with := func(f func(*plan.Sheet)) plan.Sheet {
		s := sound(t, calib.Scan)
		f(&s)
		return s
	}
	on := func(s plan.Sheet) *plan.Plan {
		return legOf(plan.New(day).SetTitle("Cautions").SetSheet(s), pickedOn(t, s, 500, 500), pickedOn(t, s, 900, 700))
	}
	unchecked := with(func(s *plan.Sheet) { s.Evidence = nil })
	two := with(func(s *plan.Sheet) { s.Points, s.Evidence = s.Points[:2], nil })
	slip := with(func(s *plan.Sheet) { s.Points[5].Ref.E += 1000; s.Evidence = nil })
	bent := sound(t, calib.Scan)
	at := func(col, row float64) calib.ControlPoint {
		return calib.ControlPoint{At: calib.PicturePt{Col: col, Row: row}, Ref: geodesy.Grid{E: 50_000 + 5*col, N: 800_000 - 5*row}, Text: "read"}
	}
	bent.Points = []calib.ControlPoint{at(200, 200), at(270, 200), at(200, 260), at(270, 270)}
	hanging := typed(gb, 54_500, 796_500)
	hanging.Sheet = unchecked.ID
	lost := on(good)
	kept, _ := lost.SheetByID(good.ID)
	kept.Points = nil
	unknown, err := geodesy.Define("+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=500000 +y_0=0 +ellps=bessel +units=m +no_defs")
	if err != nil {
		t.Fatal(err)
	}
	utm, mercator := geodesy.EPSG(32630), geodesy.EPSG(3857)
	wood := func(ground pace.Ground) *plan.Plan {
		a := plan.Area{ID: "area-1", Ground: ground}
		for _, xy := range [][2]float64{{255_000, 756_000}, {255_100, 756_000}, {255_100, 757_500}, {255_000, 757_500}} {
			a.Points = append(a.Points, typed(gb, xy[0], xy[1]))
		}
		return legOf(plan.New(day), typed(gb, 254_500, 756_500), typed(gb, 255_500, 756_900)).AddArea(a)
	}
	return []cautioned{
		{"all is well", on(good), nil, false},
		{"typed on no sheet", legOf(plan.New(day), typed(gb, 254_500, 756_500), typed(gb, 255_500, 756_900)), nil, false},
		{"unchecked", on(unchecked), []caution.Code{caution.Unchecked}, true},
		{"two points", on(two), []caution.Code{caution.Unchecked, caution.NoRedundancy}, true},
		{"a slip among the points", on(slip), []caution.Code{caution.Unchecked, caution.SlipNamed}, true},
		{"far beyond the points", legOf(plan.New(day).SetSheet(bent), pickedOn(t, bent, 220, 230), pickedOn(t, bent, 1950, 1950)), []caution.Code{caution.OutsidePoints}, true},
		{"hanging on an unchecked sheet", legOf(plan.New(day).SetSheet(unchecked), typed(gb, 54_000, 796_000), hanging), []caution.Code{caution.Unchecked}, true},
		{"not calibrated any more", lost.SetSheet(kept), []caution.Code{caution.Uncalibrated}, true},
		{"its sheet removed", on(good).RemoveSheet(good.ID), []caution.Code{caution.SheetGone}, true},
		{"no date", on(good).SetDate(plan.Date{}), []caution.Code{caution.NoDate}, false},
		{"a date after the model", on(good).SetDate(plan.Date{Year: 2031, Month: 1, Day: 2}), []caution.Code{caution.OutsideModel}, false},
		{"where compasses fail", legOf(plan.New(day), typed(geodesy.EPSG(5041), 2_283_700, 2_338_000), typed(geodesy.EPSG(5041), 2_284_700, 2_338_500)), []caution.Code{caution.BlackoutZone}, false},
		{"outside the grid's area", legOf(plan.New(day), typed(gb, 254_500, 756_500), typed(gb, -354_500, 756_500)), []caution.Code{caution.OutsideArea}, true},
		{"through plantation", wood(pace.Plantation), []caution.Code{caution.EntersPlantation}, false},
		{"through rough ground", wood(pace.Rough), nil, false},
		{"a coarse shift", legOf(plan.New(day), typed(geodesy.EPSG(31467), 3_500_000, 5_500_000), typed(geodesy.EPSG(31467), 3_501_000, 5_500_500)), []caution.Code{caution.CoarseShift}, true},
		{"an unknown datum", legOf(plan.New(day), typed(unknown.Code(), 500_000, 5_500_000), typed(unknown.Code(), 501_000, 5_500_500)), []caution.Code{caution.ShiftUnknown}, true},
		{"too short", legOf(plan.New(day).SetSheet(good), pickedOn(t, good, 500, 500), pickedOn(t, good, 503, 501)), []caution.Code{caution.VagueBearing}, false},
		{"a grid that bends bearings", legOf(plan.New(day), typed(geodesy.EPSG(3035), 3_500_000, 3_000_000), typed(geodesy.EPSG(3035), 3_501_000, 3_000_500)), []caution.Code{caution.BentGrid}, false},
		{"another grid that keeps angles", legOf(plan.New(day), typed(utm, 500_000, 6_000_000), typed(utm, 501_000, 6_000_500)), nil, false},
		{"web mercator", legOf(plan.New(day), typed(mercator, 500_000, 6_000_000), typed(mercator, 501_000, 6_000_500)), []caution.Code{caution.BentGrid}, false},
	}
}

// The cautions of a reading are wherever it is written: in full below the
// table, in the JSON, on the standard error and, once, in the GPX. A stop marks the
// table's row, and begins the leg's, the mark's and the route's end in the GPX. A
// note marks nothing, nor does what concerns latitude and longitude alone mark a leg.
func TestEveryCautionStandsEverywhere(t *testing.T) {
	t.Parallel()
	for _, d := range cautionedPlans(t) {
		t.Run(d.name, func(t *testing.T) {
			t.Parallel()
			file := filepath.Join(t.TempDir(), "d.legplan")
			f, err := os.Create(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := planfile.Encode(f, d.plan); err != nil {
				t.Fatal(err)
			}
			if err := f.Close(); err != nil {
				t.Fatal(err)
			}
			list := inJSON(t, file, d.codes)
			inTable(t, file, list)
			inGPX(t, file, list, d.mark)
			inOthers(t, file, list)
		})
	}
}

// spoken is a caution in JSON.
type spoken struct {
	Code, Grade, Text string
	Affects           []string
}

// stops reports whether it forbids to walk on a figure of the leg.
func (s spoken) stops() bool {
	return s.Grade == "stop" && !slices.Equal(s.Affects, []string{"latlon"})
}

// inJSON compares the codes of the leg with those wanted, and returns its cautions.
func inJSON(t *testing.T, file string, codes []caution.Code) []spoken {
	t.Helper()
	got := run(t, "", "legs", file, "--json")
	var legs []struct{ Cautions []spoken }
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 1 {
		t.Fatalf("JSON: %v\n%s%s", err, got.out, got.err)
	}
	seen := map[caution.Code]bool{}
	for _, c := range legs[0].Cautions {
		seen[caution.Code(c.Code)] = true
		word := "caution: leg 1: "
		if c.Grade == "stop" {
			word = "stop: leg 1: "
		}
		if !strings.Contains(got.err, word+c.Text) {
			t.Errorf("the standard error lacks %q:\n%s", word+c.Text, got.err)
		}
	}
	for _, c := range codes {
		if !seen[c] {
			t.Errorf("JSON: %v, want %s", seen, c)
		}
	}
	if len(codes) == 0 && len(seen) > 0 {
		t.Errorf("JSON: %v, want no caution", seen)
	}
	return legs[0].Cautions
}

func inTable(t *testing.T, file string, list []spoken) {
	t.Helper()
	got := run(t, "", "legs", file)
	if marked, want := strings.Contains(got.out, "\n1 STOP "), slices.ContainsFunc(list, spoken.stops); marked != want {
		t.Errorf("the row is marked %v, want %v:\n%s", marked, want, got.out)
	}
	for _, c := range list {
		if !strings.Contains(got.out, ": leg 1: "+c.Text) {
			t.Errorf("below the table %q is missing:\n%s", c.Text, got.out)
		}
	}
}

func inGPX(t *testing.T, file string, list []spoken, place bool) {
	t.Helper()
	out := file + ".gpx"
	if got := run(t, "", "export", file, "--gpx", out, "--track"); got.code != 0 {
		t.Fatalf("export: %s", got.err)
	}
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	whole := unescaped(string(raw))
	stop := false
	for _, c := range list {
		stop = stop || c.Grade == "stop"
		if !strings.Contains(whole, c.Text) {
			t.Errorf("the GPX lacks %q: %s", c.Text, whole)
		}
	}
	inside := func(text, tag string) string {
		_, rest, _ := strings.Cut(text, "<"+tag+">")
		text, _, _ = strings.Cut(rest, "</"+tag+">")
		return text
	}
	marks, points := strings.Split(strings.Split(whole, "<rte>")[0], "<wpt"), strings.Split(strings.Split(whole, "</rte>")[0], "<rtept")
	for what, c := range map[string]struct {
		text string
		want bool
	}{
		"leg": {points[1], stop}, "end": {points[2], stop && place}, "mark": {marks[len(marks)-1], stop && place},
	} {
		desc, cmt := inside(c.text, "desc"), inside(c.text, "cmt")
		if got := strings.HasPrefix(desc, "STOP: "); got != c.want || strings.HasPrefix(cmt, "STOP: ") != c.want {
			t.Errorf("the GPX's %s says %q and %q, want a stop first %v", what, desc, cmt, c.want)
		}
	}
	for _, tag := range []string{"rte", "trk"} {
		for _, part := range []string{"desc", "cmt"} {
			if got := inside(inside(whole, tag), part); strings.HasPrefix(got, "STOP: ") != stop {
				t.Errorf("the GPX's %s says %q in %s, want a stop first %v", tag, got, part, stop)
			}
		}
	}
}

// inOthers looks for all cautions in the other formats, and in the words that programs keep of a
// leg: the properties of GeoJSON, the description of KML's leg or file, the row of the CSV.
func inOthers(t *testing.T, file string, list []spoken) {
	t.Helper()
	out := map[string]string{}
	otherFormats(t, file, out)
	stop := slices.ContainsFunc(list, func(c spoken) bool { return c.Grade == "stop" })
	for _, c := range list {
		if where := out["GeoJSON leg"] + out["GeoJSON about"]; !strings.Contains(where, c.Text) {
			t.Errorf("the GeoJSON leg lacks %q: %s", c.Text, where)
		}
		if where := unescaped(out["KML leg"] + out["KML file"]); !strings.Contains(where, c.Text) {
			t.Errorf("the KML lacks %q: %s", c.Text, where)
		}
		if where := strings.ReplaceAll(out["CSV row"], `""`, `"`); !strings.Contains(where, c.Text) {
			t.Errorf("the CSV row lacks %q: %s", c.Text, where)
		}
	}
	for _, way := range []string{"GeoJSON file", "GeoJSON leg", "KML file", "KML leg", "KML leg's name", "CSV row"} {
		if got := strings.HasPrefix(strings.TrimLeft(out[way], `"`), "STOP"); got != stop {
			t.Errorf("%s says %.80q, want a stop first %v", way, out[way], stop)
		}
	}
}

func unescaped(xml string) string {
	return strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&amp;", "&", "&lt;", "<", "&gt;", ">").Replace(xml)
}

// Names that steer a terminal are written without what steers it.
func TestNamesDoNotSteerTheTerminal(t *testing.T) {
	t.Parallel()
	s := sound(t, calib.Scan)
	s.Picture, s.Evidence = "a\x1b[2Jb.png", nil
	other := s
	other.ID = "sheet-2"
	p := legOf(plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetSheet(s).SetSheet(other), pickedOn(t, s, 500, 500), pickedOn(t, other, 900, 700))
	file := filepath.Join(t.TempDir(), "d.legplan")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := planfile.Encode(f, p); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"legs", file}, {"legs", file, "--json"}, {"picture", "a\x1b[2Jb.png"}} {
		if got := run(t, "", args...); strings.Contains(got.out+got.err, "\x1b") {
			t.Errorf("%q writes an escape: %q", args, got.out+got.err)
		}
	}
}
