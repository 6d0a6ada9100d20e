package sheettest

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/ui/benchtest"
	"legwright/app/ui/foot"
	"legwright/app/ui/routepanel"
	"legwright/canvas/overlay"
)

// ways writes everything by which a figure of the bench leaves it, each with a name.
// Nobody may read a figure of a stopped sheet without the stop before it.
func ways(t *testing.T, b *benchtest.Bench) map[string]string {
	t.Helper()
	out := map[string]string{}
	b.Mouse.Drag(120, 180, 280, 120)
	for _, room := range []float32{1000, 700, 500, 300} {
		b.Strip.Fit(room)
		out[fmt.Sprintf("strip of %.0f", room)] = b.Strip.Text()
	}
	out["sentence of the line just dragged"] = firstFault(b)
	b.Discard()

	b.Session().Select(b.Plan().Legs[0].ID)
	out["dial"] = b.Dial.Figures().Stop
	out["sentence of the leg"] = firstFault(b)
	_, out["ledger row"] = b.Ledger.Cell(0, "leg")
	if strings.Contains(b.Ledger.Totals(), "STOP") {
		_, out["sum of the ledger"], _ = strings.Cut(b.Ledger.Totals(), "1 leg marked ")
	}
	out["mark in the list"] = firstNote(b, "List marks", "NL")
	out["sight in the list"] = firstNote(b, "List sights", "° mag")
	b.Route.Section(routepanel.Selected)
	c, _ := b.Session().Calibration()
	scene := overlay.SceneOf(b.Plan(), b.Session().Reader(), c, overlay.Selection{}, overlay.Options{Labels: true})
	out["label of the leg"], out["label of the sight"] = scene.Legs[0].Label, scene.Sights[0].Label

	b.Mouse.Hover(200, 150)
	out["pointer"] = b.Foot.Drawn(foot.PartRef).Text
	out["clipboard"] = b.Mouse.CopyReference(200, 150)
	b.Choose("Copy ledger")
	_, out["row of the copied ledger"], _ = strings.Cut(b.App.Clipboard().Content(), "\n")
	out["message after the copy"], _, _ = strings.Cut(strings.TrimPrefix(b.Foot.Message(), "Copied the ledger: 1 of 1 leg marked "), ",")
	gpxWays(t, b, out)
	out["rectified map"] = rectifiedWords(t, b)
	return out
}

// rectifiedWords is the first line that a rectified map of the sheet says of itself, as a
// PNG file keeps it (PNG Specification, third edition, 11.3.3.4).
func rectifiedWords(t *testing.T, b *benchtest.Bench) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "up.png")
	rectifyTo(t, b, path, "20")
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, text, ok := strings.Cut(string(raw), "iTXtDescription\x00\x00\x00\x00\x00")
	if !ok {
		t.Fatal("the rectified map says nothing of itself")
	}
	first, _, _ := strings.Cut(text, "\n")
	return first
}

// gpxWays adds what a GPX file of the plan says of its points, its route, its track
// and itself.
func gpxWays(t *testing.T, b *benchtest.Bench, out map[string]string) {
	t.Helper()
	b.App.Preferences().SetBool("gpx-track", true)
	path := filepath.Join(t.TempDir(), "walk.gpx")
	b.Files.Export(path)
	out["message after the export"], _, _ = strings.Cut(strings.TrimPrefix(b.Foot.Message(), "Exported walk.gpx: 1 of 1 leg marked "), ",")
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	type said struct {
		Name string `xml:"name"`
		Cmt  string `xml:"cmt"`
		Desc string `xml:"desc"`
	}
	var file struct {
		Meta said   `xml:"metadata"`
		Wpt  []said `xml:"wpt"`
		Rte  []struct {
			said
			Pt []said `xml:"rtept"`
		} `xml:"rte"`
		Trk []said `xml:"trk"`
	}
	if err := xml.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Wpt) != 1 || len(file.Rte) != 1 || len(file.Rte[0].Pt) != 2 || len(file.Trk) != 1 {
		t.Fatalf("the file lacks points: %+v", file)
	}
	out["GPX file's desc"] = file.Meta.Desc
	for name, s := range map[string]said{
		"mark": file.Wpt[0], "route": file.Rte[0].said, "start of the leg": file.Rte[0].Pt[0], "end of the leg": file.Rte[0].Pt[1], "track": file.Trk[0],
	} {
		out["GPX "+name+"'s name"], out["GPX "+name+"'s desc"], out["GPX "+name+"'s cmt"] = s.Name, s.Desc, s.Cmt
	}
}

// firstFault is the first sentence of the panel in the colour of a stop, with STOP before
// it.
func firstFault(b *benchtest.Bench) string {
	for _, text := range b.Parts.Faults() {
		return "STOP: " + text
	}
	return ""
}

// firstNote is the first text in a list of the Route panel that has a certain part.
func firstNote(b *benchtest.Bench, list, part string) string {
	b.Choose(list)
	b.Content().Refresh()
	for _, text := range b.Texts() {
		if strings.Contains(text, part) && !strings.Contains(text, "Drag") {
			return text
		}
	}
	return ""
}

// A stop goes every way that a figure goes, in the first words or as the mark, and
// goes with its cause: so none of these checks can pass by itself.
func TestAStopGoesEveryWay(t *testing.T) {
	b := benchtest.Calibrated(t)
	b.Sheets.Point(300, 100, "NL 23 43")
	b.Sheets.Point(100, 100, "NL 21 43")
	b.Sheets.Point(200, 100, "NL 22 43")
	b.GoTo("Route")
	b.Mouse.NewMark(150, 150)
	b.Mouse.Drag(120, 180, 280, 120)
	b.Letters("l")
	b.Mouse.Drag(120, 120, 280, 180)
	b.Letters("s")
	for _, stop := range []bool{false, true, false} {
		ref := "NL 22 43"
		if stop {
			ref = "NL 22 44"
		}
		if _, err := b.Session().SetControlReference(4, ref); err != nil {
			t.Fatal(err)
		}
		for way, text := range ways(t, b) {
			has := strings.HasPrefix(text, "STOP") || strings.HasPrefix(text, "!")
			anywhere := strings.Contains(text, "STOP") || strings.Contains(text, "!")
			if has != stop || anywhere != stop {
				t.Errorf("stop %v, %s: %q", stop, way, text)
			}
		}
	}
}
