package planfile

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/plan"
)

func numberOf(t *testing.T, p *plan.Plan) string {
	t.Helper()
	n, err := Number(p)
	if err != nil || len(n) != 6 || strings.Trim(n, "0123456789abcdef") != "" {
		t.Fatalf("number %q, %v; want 6 hexadecimal digits", n, err)
	}
	return n
}

// A plan keeps its number where only paths, the save time and remembered checks differ, also
// through its file, and gets another one with any other difference.
func TestNumber(t *testing.T) {
	t.Parallel()
	p := isle()
	want := numberOf(t, p)
	moved := withPictures(p, func(name string) string { return "/elsewhere/" + name })
	path, s := filepath.Join(t.TempDir(), "isle.legplan"), NewStore()
	saved(t, s, path, moved.Remembering(func(plan.ID) bool { return true }).StampSaved(time.Date(2026, 11, 27, 20, 15, 0, 0, time.UTC)))
	loaded, _, err := s.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, q := range map[string]*plan.Plan{
		"moved": moved, "through its file": loaded, "saved later": p.StampSaved(time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC)),
		"checked then": p.Remembering(func(plan.ID) bool { return true }), "unchecked then": p.Remembering(func(plan.ID) bool { return false }),
	} {
		if got := numberOf(t, q); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	picture := p.Sheets[0]
	picture.SHA256 = strings.Repeat("a", 64)
	for name, q := range map[string]*plan.Plan{
		"another title": p.SetTitle("x"), "another picture": p.SetSheet(picture), "with terrain": p.SetTerrain([]plan.Terrain{{Path: "a.tif", SHA256: strings.Repeat("b", 64)}}), "a mark less": p.Remove(p.Marks[0].ID),
	} {
		if got := numberOf(t, q); got == want {
			t.Errorf("%s: still %s", name, got)
		}
	}
	if _, err := Number(p.SetTitle("\xff")); err == nil {
		t.Error("a plan that cannot be has a number")
	}
}

// The save time is kept to the second and shown by the clock of the plan's zone.
func TestSaveTime(t *testing.T) {
	t.Parallel()
	timing := plan.DefaultTiming()
	timing.Zone = "Europe/Oslo"
	p := plan.New(plan.Date{}).SetTiming(timing).StampSaved(time.Date(2026, 7, 1, 22, 30, 5, 999, time.UTC))
	var text strings.Builder
	if err := Encode(&text, p); err != nil {
		t.Fatal(err)
	}
	const want = "2026-07-02T00:30:05+02:00"
	back, err := Decode(strings.NewReader(text.String()))
	if err != nil || back.Saved.Format(time.RFC3339) != want || !strings.Contains(text.String(), `"saved": "`+want+`"`) {
		t.Errorf("saved %v, %v in\n%s\nwant %s", back.Saved, err, text.String(), want)
	}
	timing.Zone = "Europe/London"
	text.Reset()
	if err := Encode(&text, back.SetTiming(timing)); err != nil || !strings.Contains(text.String(), `"saved": "2026-07-01T23:30:05+01:00"`) {
		t.Errorf("in another zone: %v\n%s", err, text.String())
	}
	if _, err := Decode(strings.NewReader(strings.Replace(text.String(), "2026-07-01T23:30:05+01:00", "yesterday", 1))); err == nil {
		t.Error("a save time that is none is read")
	}
}
