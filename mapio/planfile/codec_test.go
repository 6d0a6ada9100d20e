package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/plan"
)

var update = flag.Bool("update", false, "write the golden plan file anew")

func text(t testing.TB, p *plan.Plan) string {
	t.Helper()
	var b bytes.Buffer
	if err := Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestGoldenPlanFile(t *testing.T) {
	t.Parallel()
	golden, got := filepath.Join("testdata", "isle.legplan"), text(t, isle())
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the written plan differs from %s; run with -update and look at the difference\n%s", golden, got)
	}
	p, err := Decode(bytes.NewReader(want))
	if err != nil {
		t.Fatal(err)
	}
	if w := isle(); !reflect.DeepEqual(p.Marks, w.Marks) || !reflect.DeepEqual(p.Legs, w.Legs) || !reflect.DeepEqual(p.Sights, w.Sights) || !reflect.DeepEqual(p.Sheets, w.Sheets) || p.Timing != w.Timing || p.OverSteepDeg != w.OverSteepDeg {
		t.Errorf("read back %+v, want %+v", p, w)
	}
}

// The keys that the design of the file promises.
func TestTheFileHasThePromisedKeys(t *testing.T) {
	t.Parallel()
	var f struct {
		Format  string
		Version int
		Sheets  []map[string]any
		Marks   []struct{ Position map[string]any }
	}
	if err := json.Unmarshal([]byte(text(t, isle())), &f); err != nil {
		t.Fatal(err)
	}
	if f.Format != "legwright-plan" || f.Version != 1 {
		t.Errorf("format %q version %d", f.Format, f.Version)
	}
	for _, k := range []string{"picture", "width_px", "height_px", "sha256", "epsg", "control_points"} {
		if _, ok := f.Sheets[0][k]; !ok {
			t.Errorf("the sheet has no %q", k)
		}
	}
	for i, keys := range [][]string{{"epsg", "easting_m", "northing_m", "origin", "col", "row", "pick_sigma_px", "sigma_m"}, {"origin", "text", "square_m", "sigma_m"}} {
		for _, k := range keys {
			if _, ok := f.Marks[i].Position[k]; !ok {
				t.Errorf("position %d has no %q", i+1, k)
			}
		}
	}
}

func TestRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		p := drawPlan(rt)
		var first bytes.Buffer
		if err := Encode(&first, p); err != nil {
			rt.Fatal(err)
		}
		q, err := Decode(bytes.NewReader(first.Bytes()))
		if err != nil {
			rt.Fatalf("%v\n%s", err, first.String())
		}
		if !sameExtras(p, q) {
			rt.Fatalf("unknown keys were lost\n%s", first.String())
		}
		if len(p.Marks) != len(q.Marks) || len(p.Legs) != len(q.Legs) || q.Title != p.Title || q.Date != p.Date {
			rt.Fatalf("read %+v, want %+v", q, p)
		}
		for i := range p.Marks {
			a, b := p.Marks[i], q.Marks[i]
			if a != b {
				rt.Fatalf("mark %+v, want %+v", b, a)
			}
		}
		var second bytes.Buffer
		if err := Encode(&second, q); err != nil {
			rt.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			rt.Fatalf("written again it differs:\n%s\n%s", first.String(), second.String())
		}
	})
}

// sameExtras compares unknown keys by meaning: their text may be spelt anew.
func sameExtras(p, q *plan.Plan) bool {
	var x, y any
	_, _ = json.Unmarshal([]byte(p.Extra), &x), json.Unmarshal([]byte(q.Extra), &y)
	return reflect.DeepEqual(x, y)
}

// The plan and its sheets keep the keys that this version does not know; the
// objects within them do not.
func TestUnknownKeysOfPlanAndSheetsAreKept(t *testing.T) {
	t.Parallel()
	var all any
	if err := json.Unmarshal([]byte(text(t, panels(t))), &all); err != nil {
		t.Fatal(err)
	}
	sprinkle(all)
	in, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(bytes.NewReader(in))
	if err != nil {
		t.Fatal(err)
	}
	const want = `{"future_key":{"n":1.5}}`
	for _, got := range []plan.Extra{p.Extra, p.Sheets[0].Extra, p.Sheets[1].Extra} {
		if got != want {
			t.Errorf("kept %q, want %q", got, want)
		}
	}
	p = p.SetTitle("edited").SetSheet(p.Sheets[0].WithoutPoint(0))
	if got := strings.Count(text(t, p), `"future_key"`); got != 1+len(p.Sheets) {
		t.Errorf("after an edit %d unknown keys were written, want %d", got, 1+len(p.Sheets))
	}
}

// sprinkle puts an unknown key into every object.
func sprinkle(v any) {
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			sprinkle(e)
		}
	case map[string]any:
		for _, e := range v {
			sprinkle(e)
		}
		v["future_key"] = map[string]any{"n": 1.5}
	}
}

func TestFilesThatAreNoPlan(t *testing.T) {
	t.Parallel()
	good := text(t, isle())
	bad := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("the golden plan has no %q", old)
		}
		return strings.Replace(good, old, new, 1)
	}
	for _, c := range []struct {
		name, text string
		want       any // pointer to the kind of error
		words      string
	}{
		{"empty", "", new(*NotAPlan), "empty"},
		{"blank", " \n", new(*NotAPlan), "empty"},
		{"text", "Dear diary", new(*NotAPlan), "not JSON"},
		{"picture", "\x89PNG\r\n\x1a\n", new(*NotAPlan), "not JSON"},
		{"list", "[1,2]", new(*NotAPlan), "not an object"},
		{"null", "null", new(*NotAPlan), "not an object"},
		{"other JSON", `{"type":"FeatureCollection"}`, new(*NotAPlan), "format"},
		{"other format", `{"format":"other","version":1}`, new(*NotAPlan), "format"},
		{"latin-1", "{\"format\":\"\xe9\"}", new(*NotAPlan), "UTF-8"},
		{"newer", bad(`"version": 1`, `"version": 2`), new(*NewerVersion), "newer version"},
		{"much newer", bad(`"version": 1`, `"version": 1e99`), new(*NewerVersion), "newer version"},
		{"no version", bad(`"version": 1`, `"version": null`), new(*Broken), "version"},
		{"half a version", bad(`"version": 1`, `"version": 1.5`), new(*Broken), "whole number"},
		{"version in words", bad(`"version": 1`, `"version": "one"`), new(*Broken), "version"},
		{"cut in the middle", good[:len(good)/2], new(*CutOff), "cut off"},
		{"cut at the end", strings.TrimRight(good, "}\n"), new(*CutOff), "cut off"},
		{"mangled", bad(`"marks": [`, `"marks": [[`), new(*Broken), "damaged"},
		{"text for a number", bad(`"epsg": 27700`, `"epsg": "x"`), new(*Broken), "epsg must be a whole number (it is: string)"},
		{"unknown grid", bad(`"epsg": 27700`, `"epsg": 4277`), new(*Broken), "4277"},
		{"no such number", bad(`"easting_m": 51000`, `"easting_m": 1e999`), new(*Broken), "easting_m must be a number that is not too large (it is: number 1e999)"},
		{"NaN", bad(`"easting_m": 51000`, `"easting_m": NaN`), new(*Broken), "damaged"},
		{"huge", bad(`"easting_m": 51000`, `"easting_m": 1e30`), new(*Broken), "not on any grid"},
		{"date", bad(`2026-11-25`, `2026-11-31`), new(*Broken), "not a date"},
		{"origin", bad(`"origin": "picked"`, `"origin": "dreamt"`), new(*Broken), "dreamt"},
		{"circle", bad(`mils-6400`, `mils-6000`), new(*Broken), "mils-6000"},
		{"rule of walking time", bad(`naismith-1892`, `naismith-1829`), new(*Broken), "naismith-1829"},
		{"start", bad(`"09:30"`, `"29:30"`), new(*Broken), "29:30"},
		{"time zone", bad(`Europe/London`, `+00:00`), new(*Broken), "+00:00"},
		{"ground", bad(`"rough"`, `"lava"`), new(*Broken), "lava"},
		{"medium", bad(`"medium": "photograph"`, `"medium": "rubber"`), new(*Broken), "rubber"},
		{"no such mark", bad(`"mark": "mark-1"`, `"mark": "mark-7"`), new(*Broken), "mark-7"},
		{"format in capitals", bad(`"format"`, `"Format"`), new(*NotAPlan), "format"},
		{"a key in capitals", bad(`"title"`, `"Title"`), new(*Broken), `"Title" must be written "title"`},
		{"a key with a long s", bad(`"sheets"`, `"\u017fheets"`), new(*Broken), `must be written "sheets"`},
		{"a key in capitals, within", bad(`"easting_m": 59000`, `"Easting_m": 59000`), new(*Broken), `sheet 1: control point 2: the key "Easting_m" must be`},
		{"null for a number", bad(`"easting_m": 59000`, `"easting_m": null`), new(*Broken), `sheet 1: control point 2: "easting_m" is null`},
		{"null for a list", bad(`"marks": [`, `"marks": null, "more": [`), new(*Broken), `"marks" is null`},
		{"null in a pair", bad(`57.1,`, `null,`), new(*Broken), "track 1: track point 1: one of its numbers is null"},
		{"half a pair", bad(`[57.1,-7.5]`, `[57.1]`), new(*Broken), "track 1: track point 1: it must have 2 numbers"},
		{"three of a pair", bad(`[57.1,-7.5]`, `[57.1,-7.5,12]`), new(*Broken), "it must have 2 numbers"},
		{"no number", bad(`"easting_m": 59000`, `"elsewhere": 59000`), new(*Broken), `control point 2: "easting_m" is missing`},
		{"a key twice", bad(`"easting_m": 59000`, `"easting_m": 1, "easting_m": 59000`), new(*Broken), `"easting_m" appears twice`},
		{"a key twice, spelt otherwise", bad(`"easting_m": 59000`, `"easting_m": 1, "\u0065asting_m": 59000`), new(*Broken), `"easting_m" appears twice`},
		{"picked outside any grid", bad(`"col": 700.125`, `"col": 1e12`), new(*Broken), "not on any grid"},
		{"a number of a million digits", bad(`"easting_m": 59000`, `"easting_m": 59000`+strings.Repeat("0", 1e6)), new(*Broken), "must be a number that is not too large (it is: number 5900"},
		{"a date of a million letters", bad(`2026-11-25`, strings.Repeat("x", 1e6)), new(*Broken), "damaged"},
		{"deep", `{"format":"legwright-plan","version":1,"x":` + strings.Repeat("[", 20_000), new(*Broken), "damaged"},
	} {
		_, err := Decode(strings.NewReader(c.text))
		if err == nil || !errors.As(err, c.want) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %T %v, want %T with %q", c.name, err, err, c.want, c.words)
		}
		if err != nil && len(err.Error()) > 600 {
			t.Errorf("%s: a message of %d bytes", c.name, len(err.Error()))
		}
	}
	if _, err := Decode(strings.NewReader("\ufeff" + good)); err != nil {
		t.Errorf("with a byte order mark: %v", err)
	}
}

// Every list is counted before anything of it is decoded: the entries here are no
// entries, and are not looked at.
func TestTooLongListsAreRefusedFirst(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		key, before, behind, words string
		most                       int
	}{
		{"sheets", "", "", "the plan has more than 16 sheets", plan.MaxSheets},
		{"marks", "", "", "the plan has more than 20000 marks", plan.MaxMarks},
		{"legs", "", "", "5000 legs", plan.MaxLegs},
		{"sights", "", "", "5000 sights", plan.MaxSights},
		{"tracks", "", "", "200 tracks", plan.MaxTracks},
		{"control_points", `"sheets":[{},{`, `}]`, "sheet 2 has more than 500 control points", plan.MaxPoints},
		{"given_matrix", `"sheets":[{`, `}]`, "sheet 1 has more than 6 matrix numbers", 6},
		{"evidence", `"sheets":[{`, `}]`, "sheet 1 has more than 100 checks", plan.MaxEvidence},
		{"lat_lon_deg", `"tracks":[{"lat_lon_deg":[0,0]},{`, `}]`, "track 2 has more than 500000 track points", plan.MaxTrackPoints - 2},
	} {
		file := func(n int) string {
			return `{"format":"legwright-plan","version":1,` + c.before + `"` + c.key + `":[0` + strings.Repeat(",0", n-1) + `]` + c.behind + `}`
		}
		var many *TooMany
		if _, err := Decode(strings.NewReader(file(c.most + 1))); !errors.As(err, &many) || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: one too many: %v, want *TooMany with %q", c.key, err, c.words)
		}
		if _, err := Decode(strings.NewReader(file(c.most))); errors.As(err, &many) {
			t.Errorf("%s: as many as may be: %v", c.key, err)
		}
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

func TestEndlessFilesAreRefused(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 128 MiB")
	}
	if _, err := Decode(endless{}); !errors.Is(err, ErrTooLarge) {
		t.Errorf("Decode: %v, want ErrTooLarge", err)
	}
}

func TestInvalidPlansAreNotWritten(t *testing.T) {
	t.Parallel()
	var bad *plan.Invalid
	if err := Encode(&bytes.Buffer{}, isle().SetTitle("a\x00b")); !errors.As(err, &bad) {
		t.Errorf("Encode: %v, want a *plan.Invalid", err)
	}
}

// Whatever comes in, a plan that is read is valid and is read again the same.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(text(f, isle())))
	f.Add([]byte(text(f, panels(f))))
	f.Add([]byte(`{"format":"legwright-plan","version":1}`))
	f.Add([]byte(`{"format":"legwright-plan","version":1,"party":{},"tracks":[{"lat_lon_deg":[[1,2]]}]}`))
	f.Add([]byte(`{"format":"legwright-plan","version":1,"format":2,"legs":[{"from":{"mark":""}}]}`))
	f.Fuzz(func(t *testing.T, in []byte) {
		p, err := Decode(bytes.NewReader(in))
		if err != nil {
			return
		}
		first := text(t, p)
		q, err := Decode(strings.NewReader(first))
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, first)
		}
		if second := text(t, q); second != first {
			t.Fatalf("written again it differs:\n%s\n%s", first, second)
		}
	})
}

// A control character in a text does not cost the walk: it is replaced and
// told, nothing else is lost, and the plan can be written again. Writing one
// stays refused (TestInvalidPlansAreNotWritten).
func TestControlCharactersAreMended(t *testing.T) {
	t.Parallel()
	good := text(t, isle())
	bad := strings.Replace(good, isle().Marks[0].Name, `Bell\u0007 rock`, 1)
	bad = strings.Replace(bad, `"title": "`, `"title": "\u001b`, 1)
	p, err := Decode(strings.NewReader(bad))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := p.Marks[0].Name, "Bell\ufffd rock"; got != want {
		t.Errorf("mark %q, want %q", got, want)
	}
	if got, want := p.Title, "\ufffd"+isle().Title; got != want {
		t.Errorf("title %q, want %q", got, want)
	}
	if len(p.Mended) != 1 || !strings.Contains(p.Mended[0], "Bell") || !strings.Contains(p.Mended[0], "title") {
		t.Errorf("told %q, want one sentence with both texts", p.Mended)
	}
	q, err := Decode(strings.NewReader(text(t, p)))
	if err != nil || q.Mended != nil || !reflect.DeepEqual(q.Legs, isle().Legs) {
		t.Errorf("written again: %v, told %q", err, q.Mended)
	}
	if clean, err := Decode(strings.NewReader(good)); err != nil || clean.Mended != nil {
		t.Errorf("a clean plan: %v, told %q", err, clean.Mended)
	}
}
