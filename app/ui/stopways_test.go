package ui

import (
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/foot"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/mapio/rectify"
)

// ways writes everything by which a figure of the bench leaves it, each with a name.
// Nobody may read a figure of a stopped sheet without the stop before it.
func ways(t *testing.T, b *Bench) map[string]string {
	t.Helper()
	out := map[string]string{}
	drag(b, 120, 180, 280, 120)
	for _, room := range []float32{1000, 700, 500, 300} {
		b.view.Strip().Fit(room)
		out[fmt.Sprintf("strip of %.0f", room)] = b.view.Strip().Text()
	}
	out["sentence of the line just dragged"] = firstFault(b)
	b.view.Discard()

	b.s.Select(b.s.Plan().Legs[0].ID)
	out["dial"] = b.frame.dial.Figures().Stop
	out["sentence of the leg"] = firstFault(b)
	number, _ := b.ledger.Cell(0, "leg")
	_, out["ledger row"], _ = strings.Cut(number, " ")
	if strings.Contains(b.ledger.Totals(), "STOP") {
		_, out["sum of the ledger"], _ = strings.Cut(b.ledger.Totals(), "1 marked ")
	}
	out["mark in the list"] = firstNote(b, routepanel.Marks, "NL")
	out["sight in the list"] = firstNote(b, routepanel.Sights, "° mag")
	b.route.ShowSection(routepanel.Selected)
	c, _ := b.s.Calibration()
	scene := overlay.SceneOf(b.s.Plan(), b.s.Reader(), c, overlay.Selection{}, overlay.Options{Labels: true})
	out["label of the leg"], out["label of the sight"] = scene.Legs[0].Label, scene.Sights[0].Label

	hoverAt(b, picAt(200, 150))
	out["pointer"] = b.foot.Drawn(foot.PartRef).Text
	b.view.CopyReference(picAt(200, 150))
	out["clipboard"] = b.program.app.Clipboard().Content()
	gpxWays(t, b, out)
	sheet, err := b.files.Rectify.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	frame, err := rectify.FrameOf(sheet.Calibration, sheet.Width, sheet.Height, 0)
	if err != nil {
		t.Fatal(err)
	}
	out["rectified map"] = sheet.Words(frame)[0]
	return out
}

// gpxWays adds what a GPX file of the plan says of its points, its route, its track
// and itself.
func gpxWays(t *testing.T, b *Bench, out map[string]string) {
	t.Helper()
	b.program.app.Preferences().SetBool("gpx-track", true)
	path := filepath.Join(t.TempDir(), "walk.gpx")
	exportTo(t, b, path)
	out["message after the export"], _, _ = strings.Cut(strings.TrimPrefix(b.foot.Message(), "Exported walk.gpx: 1 of 1 leg marked "), ",")
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	type said struct {
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
		out["GPX "+name+"'s desc"], out["GPX "+name+"'s cmt"] = s.Desc, s.Cmt
	}
}

// firstFault is the first sentence of the Route panel in the colour of a stop, with STOP
// before it.
func firstFault(b *Bench) string {
	for _, text := range faults(b.route.Body()) {
		return "STOP: " + text
	}
	return ""
}

// faults are the sentences below an object in the colour of a stop.
func faults(o fyne.CanvasObject) []string {
	if !o.Visible() {
		return nil
	}
	if s, ok := o.(*widgets.Sentence); ok && s.Tone() == widgets.Fault {
		return []string{s.Text()}
	}
	below := []fyne.CanvasObject{}
	switch o := o.(type) {
	case *fyne.Container:
		below = o.Objects
	case fyne.Widget:
		below = test.WidgetRenderer(o).Objects()
	}
	var out []string
	for _, c := range below {
		out = append(out, faults(c)...)
	}
	return out
}

// firstNote is the first text in a list of the Route panel that has a certain part.
func firstNote(b *Bench, which routepanel.Section, part string) string {
	b.route.ShowSection(which)
	b.frame.root.Refresh()
	for _, text := range (&uitest.Window{Window: b.window}).Texts() {
		if strings.Contains(text, part) && !strings.Contains(text, "Drag") {
			return text
		}
	}
	return ""
}

// A stop goes every way that a figure goes, in the first words or as the mark, and
// goes with its cause: so none of these checks can pass by itself.
func TestAStopGoesEveryWay(t *testing.T) {
	b := calibrated(t)
	point(b, 300, 100, "NL 23 43")
	point(b, 100, 100, "NL 21 43")
	point(b, 200, 100, "NL 22 43")
	b.goTo(panelRoute)
	b.view.NewMark(picAt(150, 150))
	drag(b, 120, 180, 280, 120)
	b.view.Offer().KeepLeg()
	drag(b, 120, 120, 280, 180)
	b.view.Offer().KeepSight()
	for _, stop := range []bool{false, true, false} {
		ref := "NL 22 43"
		if stop {
			ref = "NL 22 44"
		}
		if _, err := b.s.SetControlReference(4, ref); err != nil {
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
