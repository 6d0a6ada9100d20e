package headless

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/planfile"
)

// printed runs the card command on a plan and returns the file and its words in the order in which
// they stand on paper.
func printed(t *testing.T, name string, flags ...string) (pdf []byte, text string) {
	t.Helper()
	out := filepath.Join(t.TempDir(), "card.pdf")
	wantCode(t, run(t, "", append([]string{"card", name, "--pdf", out}, flags...)...), exitDone)
	pdf, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed: what stands on the card is not checked")
	}
	raw, err := exec.Command("pdftotext", "-raw", out, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian poppler-utils): %v", err)
	}
	return pdf, strings.Join(strings.Fields(string(raw)), " ")
}

// legFigures are the keys of legs --json that a card prints.
type legFigures struct {
	From    string    `json:"from"`
	To      string    `json:"to"`
	Ref     string    `json:"to_ref"`
	Tick    string    `json:"tick_off_feature"`
	Catch   string    `json:"catching_feature"`
	Grid    float64   `json:"grid_bearing_deg"`
	Mag     float64   `json:"magnetic_bearing_deg"`
	BackMag float64   `json:"back_magnetic_bearing_deg"`
	GroundM float64   `json:"ground_distance_m"`
	SigmaM  float64   `json:"ground_distance_m_sigma"`
	Climb   float64   `json:"climb_m"`
	Descent float64   `json:"descent_m"`
	EndM    float64   `json:"end_height_m"`
	Time    float64   `json:"walking_time_s"`
	Arrive  time.Time `json:"arrive"`
}

// riseOnPaper is a climb or descent on paper: nothing for none.
func riseOnPaper(sign string, m float64) string {
	if math.Round(m) == 0 {
		return ""
	}
	return fmt.Sprintf("%s%.0f m", sign, m)
}

// onPaper are the figures of a leg as they must stand on paper, in reading order, rounded here
// and not by the program: whole degrees, metres, minutes; 64 double paces to 100 m.
func (l legFigures) onPaper(n int) []string {
	whole := func(deg float64) string { return fmt.Sprintf("%03.0f°", math.Mod(math.Round(deg), 360)) }
	mins := math.Round(l.Time / 60)
	clock := l.Arrive.Round(time.Minute).Format("15:04")
	return []string{
		fmt.Sprint(n), l.From + " – " + l.To, l.Ref + ",", fmt.Sprintf("%.0f m", l.EndM), whole(l.Mag), whole(l.Grid) + " grid", whole(l.Mag) + " mag", whole(l.BackMag) + " mag",
		fmt.Sprintf("%.0f m ± %.0f", l.GroundM, math.Ceil(2*l.SigmaM)), riseOnPaper("+", l.Climb), riseOnPaper("−", l.Descent),
		fmt.Sprintf("%.0f min", mins), clock, fmt.Sprintf("%.0f × 100 m", math.Floor(l.GroundM/100)),
		"+ " + fmt.Sprintf("%.0f", math.Round(math.Mod(l.GroundM, 100)/100*64)), "Tick off: " + l.Tick, "Catching feature: " + l.Catch,
	}
}

// Every figure on the hill card is that of legs --json, rounded, and they stand in reading order.
func TestCardFiguresAreThoseOfLegs(t *testing.T) {
	t.Parallel()
	var legs []legFigures
	got := run(t, "", "legs", "demo", "--json")
	if err := json.Unmarshal([]byte(got.out), &legs); err != nil || len(legs) != 6 {
		t.Fatalf("%d legs, %v", len(legs), err)
	}
	for _, flags := range [][]string{{"--paper", "a4", "--no-map"}, {"--paper", "letter", "--landscape", "--no-map"}} {
		_, text := printed(t, "demo", flags...)
		text = text[strings.Index(text, "actual"):]
		for i, l := range legs {
			for _, want := range l.onPaper(i + 1) {
				at := strings.Index(text, want)
				if at < 0 {
					t.Fatalf("%v: leg %d: %q does not stand behind what comes before it: %.300s", flags, i+1, want, text)
				}
				text = text[at+len(want):]
			}
		}
	}
	_, small := printed(t, "demo", "--paper", "pocket")
	small = strings.ReplaceAll(small, "- ", "-") // a name may be broken behind its hyphen
	for i, l := range legs {
		for _, want := range []string{l.To, fmt.Sprintf("%03.0f°", l.Mag), fmt.Sprintf("%.0f min", math.Round(l.Time/60)), "Catching: " + l.Catch} {
			at := strings.Index(small, want)
			if at < 0 {
				t.Fatalf("pocket: leg %d: no %q in %.300s", i+1, want, small)
			}
			small = small[at+len(want):]
		}
	}
}

// The same plan gives the same bytes, and a saved one says when it was saved.
func TestCardIsTheSameTwice(t *testing.T) {
	t.Parallel()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "walk.legplan")
	if _, err := planfile.NewStore().Save(name, p.StampSaved(time.Date(2026, 11, 27, 20, 15, 30, 0, time.UTC)), plan.Overwrite{}); err != nil {
		t.Fatal(err)
	}
	one, text := printed(t, name, "--paper", "a5", "--no-map")
	two, _ := printed(t, name, "--paper", "a5", "--no-map")
	if !bytes.Equal(one, two) {
		t.Error("the same plan gives other bytes the second time")
	}
	number, err := planfile.Number(p)
	if err != nil {
		t.Fatal(err)
	}
	if want := "28 November 2026 · plan " + number + " · saved 27 November 2026, 20:15 GMT"; !strings.Contains(text, want) {
		t.Errorf("no %q in %.200s", want, text)
	}
	untitled := filepath.Join(filepath.Dir(name), "Wet Sunday.legplan")
	if _, err := planfile.NewStore().Save(untitled, p.SetTitle(""), plan.Overwrite{}); err != nil {
		t.Fatal(err)
	}
	for _, form := range []string{"hill", "legs", "sheet"} {
		one, text := printed(t, untitled, "--form", form, "--no-map")
		two, _ := printed(t, untitled, "--form", form, "--no-map")
		if !strings.Contains(text, "Wet Sunday") || strings.Contains(text, "untitled") || !bytes.Equal(one, two) {
			t.Errorf("%s: the plan without a title is not named after its file, or not the same twice: %.200s", form, text)
		}
	}
	if _, demo := printed(t, "demo", "--no-map"); !strings.Contains(demo, "plan "+number+" · not saved") {
		t.Error("the demo, which has no file, does not say that it is not saved")
	}
}

// An escape in danger is refused with what to do, and left out on request.
func TestCardRefusesAnEscapeInDanger(t *testing.T) {
	t.Parallel()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatal(err)
	}
	g := p.Resolve(p.Escapes[0].Start).Grid
	at := func(e, n float64) plan.Position {
		return plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: g.E + e, N: g.N + n}, 1)
	}
	p = p.AddHazard(plan.Hazard{ID: p.NextID(plan.OfHazard), Name: "Fank crag", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{at(5, -30), at(60, -40)}})
	name := filepath.Join(t.TempDir(), "walk.legplan")
	if _, err := planfile.NewStore().Save(name, p, plan.Overwrite{}); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "card.pdf")
	got := run(t, "", "card", name, "--pdf", out)
	if got.code != exitFailed || !strings.Contains(got.err, "Fank crag") || !strings.Contains(got.err, "--without E04-1") {
		t.Errorf("exit %d, %q", got.code, got.err)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("a file was written")
	}
	if _, text := printed(t, name, "--no-map", "--without", "E04-1"); !strings.Contains(text, "Left out of this paper: E04-1.") {
		t.Errorf("the card does not say what is left out: %.300s", text)
	}
}

// mapped saves a plan with one leg on a sheet of 500 × 400 pixels, 10 m each, and its picture.
func mapped(t *testing.T) (name, picture string) {
	t.Helper()
	dir := t.TempDir()
	name, picture = filepath.Join(dir, "walk.legplan"), filepath.Join(dir, "sheet.png")
	var file bytes.Buffer
	if err := png.Encode(&file, image.NewGray(image.Rect(0, 0, 500, 400))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(picture, file.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256(file.Bytes())
	sheet := plan.Sheet{ID: "sheet-1", Picture: picture, Width: 500, Height: 400, SHA256: hex.EncodeToString(sum[:]), Code: geodesy.EPSG(27700)}
	for _, at := range [...]calib.PicturePt{{Col: 0, Row: 0}, {Col: 500, Row: 0}, {Col: 0, Row: 400}, {Col: 500, Row: 400}} {
		ref := geodesy.Grid{E: 230_000 + 10*at.Col, N: 724_000 - 10*at.Row}
		sheet = sheet.WithPoint(calib.ControlPoint{At: at, Ref: ref, Text: fmt.Sprintf("E %.0f N %.0f", ref.E, ref.N)})
	}
	end := func(e, n float64) plan.End {
		return plan.AtPosition(plan.ImportedAt(sheet.Code, geodesy.Grid{E: e, N: n}, 5))
	}
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetSheet(sheet).AddLeg(plan.Leg{ID: "leg-1", From: end(231_000, 721_000), To: end(233_000, 723_000)})
	if _, err := planfile.NewStore().Save(name, p, plan.Overwrite{}); err != nil {
		t.Fatal(err)
	}
	return name, picture
}

// The hill card ends with the map of the plan's sheet at the scale that was chosen. Without a
// scale of its own one is asked for, and a picture that is not the plan's is refused.
func TestCardMap(t *testing.T) {
	t.Parallel()
	name, picture := mapped(t)
	_, text := printed(t, name, "--paper", "a5", "--scale", "50000")
	if !strings.Contains(text, "1:50,000: 1 cm is 500 m.") || !strings.Contains(text, "Print at 100 %") || strings.Count(text, "sheet unchecked") < 3 {
		t.Errorf("no map at 1:50,000 on an unchecked sheet: %s", text)
	}
	out := filepath.Join(t.TempDir(), "card.pdf")
	if got := run(t, "", "card", name, "--pdf", out); got.code != exitFailed || !strings.Contains(got.err, "scale of sheet.png is not known") {
		t.Errorf("a sheet of unknown scale: exit %d, %q", got.code, got.err)
	}
	var other bytes.Buffer
	if err := png.Encode(&other, image.NewGray(image.Rect(0, 0, 500, 401))); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(picture, other.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := run(t, "", "card", name, "--scale", "50000", "--pdf", out); got.code != exitFailed || !strings.Contains(got.err, "has changed since the plan was made") {
		t.Errorf("another picture: exit %d, %q", got.code, got.err)
	}
}

func TestCardUsage(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{{"card", "demo"}, {"card", "--pdf", "x.pdf"}, {"card", "demo", "--paper", "a0", "--pdf", "x.pdf"}, {"card", "demo", "--form", "none", "--pdf", "x.pdf"}, {"card", "demo", "--scale", "100", "--pdf", "x.pdf"}, {"card", "demo", "--up", "8", "--pdf", "x.pdf"}} {
		if got := run(t, "", args...); got.code != exitUsage {
			t.Errorf("%q: exit %d, %q", args, got.code, got.err)
		}
	}
	if got := run(t, "", "card", "demo", "--pdf", "walk.legplan"); got.code != exitFailed {
		t.Errorf("onto the name of a plan: exit %d", got.code)
	}
}
