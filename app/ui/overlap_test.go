package ui

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
)

// inkAt is how dark invented ground is at a place: blots and lines a hundred metres
// apart, none of them in a row.
func inkAt(e, n float64) float64 {
	a := math.Sin(e/31+3*math.Sin(n/170)) + math.Sin(n/43+3*math.Sin(e/230)) + math.Sin((e+n)/59+2*math.Cos((e-n)/140))
	return math.Max(0, math.Min(1, 0.6*a))
}

// groundPicture draws that ground at metres per pixel, north up, from its top-left
// corner on, with a white border.
func groundPicture(t *testing.T, name string, w, h int, mpp, east, north float64) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	const border = 90
	for y := range h {
		for x := range w {
			level := 250.0
			if x >= border && y >= border && x < w-border && y < h-border {
				level -= 180 * inkAt(east+mpp*(float64(x)+0.5), north-mpp*(float64(y)+0.5))
			}
			img.SetGray(x, y, color.Gray{Y: uint8(level)})
		}
	}
	path := filepath.Join(t.TempDir(), name)
	writePNG(t, path, img)
	return path
}

// overlapping is a bench with two sheets of the same ground, the second in hand: the
// first is checked and has the mark Chapel at E 22 567 N 742 871. The second's
// references are out by so many metres.
func overlapping(t *testing.T, outM float64) *Bench {
	t.Helper()
	b := stand(t)
	shown := func(name string) func() bool {
		return func() bool {
			return b.picture.now == nil && b.picture.pyramid != nil && b.picture.pyramid.Ready(0) && strings.HasSuffix(b.picture.path, name)
		}
	}
	b.openSheet(groundPicture(t, "west.png", 500, 400, 10, 20000, 744000))
	until(t, "the first sheet", shown("west.png"))
	for _, p := range [][3]any{{100.0, 100.0, "NL 21 43"}, {400.0, 100.0, "NL 24 43"}, {400.0, 300.0, "NL 24 41"}, {100.0, 300.0, "NL 21 41"}} {
		point(b, p[0].(float64), p[1].(float64), p[2].(string))
	}
	if v, err := b.s.AddEvidence(calib.FromList, calib.PicturePt{Col: 233.5, Row: 177.5}, "NL 2233 4222", 0.5); err != nil || !v.Checked {
		t.Fatalf("the first sheet: %v, %+v", err, v)
	}
	b.view.NewMark(picAt(256.7, 112.9))
	if err := b.s.RenameMark(b.selectedID(), "Chapel"); err != nil {
		t.Fatal(err)
	}
	b.openSheet(groundPicture(t, "east.png", 600, 500, 8, 20500, 744500))
	answerWith(t, b, "Another sheet")
	until(t, "the second sheet", shown("east.png"))
	if b.post != postSheet {
		b.goTo(postSheet)
	}
	for _, p := range [][2]float64{{21000, 744000}, {25000, 744000}, {25000, 741000}, {21000, 741000}} {
		point(b, (p[0]-20500)/8, (744500-p[1])/8, fmt.Sprintf("%.0f %.0f", p[0]+outM, p[1]))
	}
	return b
}

// compareAt aims at ground and compares it with the mark.
func compareAt(t *testing.T, b *Bench, e, n float64) {
	t.Helper()
	clickAt(b, picAt((e-20500)/8, (744500-n)/8))
	f := b.sheetP.evidence
	f.origin.SetSelected("another sheet")
	if len(f.marks) != 1 {
		t.Fatalf("%d marks are offered: %q", len(f.marks), b.sheetP.hint.Text())
	}
	f.mark.SetSelectedIndex(0)
	until(t, "the other picture", func() bool { return f.beside.patch != nil || f.beside.why != "" })
	b.sheetP.addEvidence()
}

// Where two sheets overlap, a mark of a checked sheet checks the other one. No mark is
// drawn there by the unchecked sheet's own calibration, and the two pictures must show
// the same.
func TestOverlapChecks(t *testing.T) {
	b := overlapping(t, 0)
	if n := len(sceneNow(b).Marks); n != 0 {
		t.Errorf("%d marks of the other sheet are drawn on an unchecked one", n)
	}
	for _, c := range []struct {
		what string
		e, n float64
		want string
	}{
		{"the white border", 20700, 744300, "too little is drawn"},
		{"another place", 23800, 741900, "does not show here"},
		{"160 m beside", 22727, 742871, "does not show here"},
	} {
		compareAt(t, b, c.e, c.n)
		if got := strings.ToLower(b.sheetP.check.Text()); len(b.sheetNow().Evidence) > 0 || !strings.Contains(got, c.want) {
			t.Errorf("%s: %d pieces of evidence, said %q", c.what, len(b.sheetNow().Evidence), got)
		}
		b.sheetP.forgetAndRefresh()
	}
	compareAt(t, b, 22567, 742871)
	if !b.s.Verdict().Checked || !strings.Contains(said(b), "Chapel") || len(sceneNow(b).Marks) != 1 {
		t.Errorf("the same feature: %q, said %q", b.foot.Message(), said(b))
	}
	first := b.s.Plan().Sheets[0].ID
	if err := b.s.ShowSheet(first); err != nil {
		t.Fatal(err)
	}
	if err := b.s.RemoveEvidence(0); err != nil {
		t.Fatal(err)
	}
	if b.s.Reader().Verdict(b.s.Plan().Sheets[1].ID).Checked {
		t.Error("the check outlives that of the sheet it rests on")
	}
}

// A sheet that is a kilometre out disagrees at the same feature.
func TestOverlapShowsASheetThatIsOut(t *testing.T) {
	b := overlapping(t, 1000)
	compareAt(t, b, 22567, 742871)
	if b.s.Verdict().Checked || !strings.Contains(said(b), "disagrees") {
		t.Errorf("said %q", said(b)+b.sheetP.check.Text())
	}
	tools := offersIn(b.sheetP.checks.rows)
	if at := slices.IndexFunc(tools, func(t *widgets.Tool) bool { return t.Text() == "Correct them" }); at < 0 {
		t.Errorf("nothing corrects all references: %q", said(b))
	} else {
		tools[at].OnTapped()
	}
	if got := b.sheetNow().Points[0].Text; got != "21000 744000" || !b.s.Verdict().Checked {
		t.Errorf("corrected to %q, said %q", got, said(b))
	}
}

// Without the other sheet's picture there is no such check.
func TestOverlapNeedsThePicture(t *testing.T) {
	b := overlapping(t, 0)
	p := b.s.Plan()
	other := p.Sheets[0]
	other.SHA256 = strings.Repeat("0", 64)
	if err := b.s.Use(p.SetSheet(other)); err != nil {
		t.Fatal(err)
	}
	if _, err := b.picture.source.again(t.Context(), other.Picture, plan.Page{}, [32]byte{}); err == nil {
		t.Fatal("a picture with another hash is read")
	}
	if err := b.s.ShowSheet(p.Sheets[1].ID); err != nil {
		t.Fatal(err)
	}
	compareAt(t, b, 22567, 742871)
	if len(b.sheetNow().Evidence) > 0 || !strings.Contains(b.sheetP.check.Text(), "not at hand") {
		t.Errorf("said %q", b.sheetP.check.Text())
	}
}
