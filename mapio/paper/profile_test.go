package paper

import (
	"math"
	"slices"
	"strings"
	"testing"

	"legwright/app/terrain"
)

// ramp is ground that rises from one height to another.
func ramp(lengthM, from, to float64) terrain.Profile {
	var p terrain.Profile
	for i := range 51 {
		f := float64(i) / 50
		p.Points = append(p.Points, terrain.Point{AlongM: f * lengthM, HeightM: from + f*(to-from)})
	}
	return p
}

// drawnProfile prints a profile in a box of A5.
func drawnProfile(t *testing.T, legs []Stretch) (printout, Rect, string) {
	t.Helper()
	d := begun(t, A5, testInfo())
	p := d.AddPage()
	box, _ := p.Body.Top(45)
	if !p.Profile(box, legs) {
		t.Fatal("nothing was drawn")
	}
	path := written(t, d)
	pic, corner := printed(t, path, fine, box)
	return printout{pic, corner}, box, run(t, "pdftotext", "-raw", path, "-")
}

// TestProfileIsTrue measures a profile on paper: the middle of a leg that rises evenly stands
// half as high as its end, and where heights are missing there is no line.
func TestProfileIsTrue(t *testing.T) {
	t.Parallel()
	hole := ramp(1000, 400, 400)
	for i := 20; i <= 30; i++ {
		hole.Points[i].HeightM = math.NaN()
	}
	pic, box, text := drawnProfile(t, []Stretch{{1, ramp(2000, 200, 400), 2000}, {2, hole, 1000}, {3, terrain.Profile{}, 1000}})
	left, line := box.X+profileWords, Style{}.Height()
	perM := (box.W - profileWords - line) / 4000
	height := func(alongM float64) float64 {
		for y := box.Y + line + 0.5; y < box.Bottom()-2*line-0.5; y += 0.2 / perMM {
			if black(pic, Point{left + alongM*perM, y}, profileLine) {
				return y
			}
		}
		return math.NaN()
	}
	low, mid, high := height(250), height(750), height(1250)
	if !(low > mid && mid > high) || math.Abs((low+high)/2-mid) > 0.1 {
		t.Errorf("an even rise stands at %.2f, %.2f and %.2f mm", low, mid, high)
	}
	if flat := height(2150); math.Abs(flat-height(2250)) > 0.05 || flat >= high {
		t.Errorf("level ground stands at %.2f mm, below the end of the rise at %.2f", flat, high)
	}
	for _, want := range []string{"200", "300", "400", "Hatched: heights not known.", "times as steep"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

// black reports whether a point is black over the whole height of a line: level dashes and
// hatching are thinner or pass by.
func black(pic printout, p Point, tall float64) bool {
	for dy := 0.05; dy < tall-0.1; dy += 0.1 {
		if pic.value(Point{p.X, p.Y + dy}) > 100 {
			return false
		}
	}
	return true
}

// TestAShortProfileHasDistances: a leg of 356 m is measured by more than its start.
func TestAShortProfileHasDistances(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	p := d.AddPage()
	box, _ := p.Body.Top(40)
	p.Profile(box, []Stretch{{1, ramp(356, 1, 14), 356}})
	if text := strings.Fields(run(t, "pdftotext", "-layout", written(t, d), "-")); !slices.Contains(text, "0.1") || !slices.Contains(text, "0.3") {
		t.Errorf("no 0.1 and 0.3 in %q", text)
	}
}

// TestProfileNeedsHeights: without any, and in a box that is too small, nothing is drawn.
func TestProfileNeedsHeights(t *testing.T) {
	t.Parallel()
	d := begun(t, A5, testInfo())
	p := d.AddPage()
	top, _ := p.Body.Top(20)
	if p.Profile(p.Body, []Stretch{{1, terrain.Profile{}, 1000}}) || p.Profile(p.Body, nil) || p.Profile(top, []Stretch{{1, ramp(1000, 1, 200), 1000}}) {
		t.Error("a profile without heights or room was drawn")
	}
	var many []Stretch
	for i := range 60 {
		many = append(many, Stretch{i + 1, ramp(300, 100, 100+float64(i%7)*40), 300})
	}
	box, _ := p.Body.Top(40)
	if !p.Profile(box, many) {
		t.Error("60 legs were not drawn")
	}
	if _, err := d.Bytes(); err != nil {
		t.Error(err)
	}
}
