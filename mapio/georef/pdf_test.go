package georef

import (
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/pdf"
	"legwright/mapio/scan"
)

// frame is a viewport of a made page of 400 by 300 points: a box, a grid, and
// the corners' latitude and longitude.
func frame(kind pdf.Kind, epsg int, box [4]float64, south, west, north, east float64) pdf.Frame {
	f := pdf.Frame{Kind: kind, EPSG: epsg, Degrees: true}
	for _, c := range [][2]float64{{0, 1}, {0, 3}, {2, 3}, {2, 1}} {
		x, y := box[int(c[0])], box[int(c[1])]
		f.Outline = append(f.Outline, [2]float64{x, y})
		lon, lat := west, south
		if x == box[2] {
			lon = east
		}
		if y == box[3] {
			lat = north
		}
		f.Points = append(f.Points, pdf.Point{X: x, Y: y, East: lon, North: lat})
	}
	return f
}

// An inset never stands in for the map, and two georeferences of one map must agree.
func TestPageWithSeveralMaps(t *testing.T) {
	t.Parallel()
	sheet, corner := [4]float64{0, 0, 400, 250}, [4]float64{300, 255, 390, 295}
	good := frame(pdf.Viewport, 3857, sheet, 47, 9, 47.01, 9.02)
	unknown := frame(pdf.Viewport, 28191, sheet, 47, 9, 47.01, 9.02) // not in the catalogue
	inset := frame(pdf.Viewport, 3857, corner, 45, 5, 48, 12)
	again := frame(pdf.Registration, 3857, sheet, 47, 9, 47.01, 9.02)
	elsewhere := frame(pdf.Registration, 3857, sheet, 43, 9, 43.01, 9.02)
	for _, c := range []struct {
		name    string
		frames  []pdf.Frame
		unknown string // "" for a position
		warns   string
	}{
		{"with an inset", []pdf.Frame{good, inset}, "", "more than one map"},
		{"the map's grid unknown, the inset's known", []pdf.Frame{unknown, inset}, "EPSG:28191, which is not in the catalogue", ""},
		{"twice, one on an unknown grid", []pdf.Frame{unknown, again}, "", ""},
		{"twice alike", []pdf.Frame{again, good}, "", ""},
		{"twice, 400 km apart", []pdf.Frame{elsewhere, good}, "contradict each other", ""},
	} {
		p := pdf.Page{Box: pdf.Box{X1: 400, Y1: 300}, UserUnit: 1, Frames: c.frames}
		got := fromPDF(p, scan.Header{Width: 800, Height: 600})
		if got == nil || (c.unknown == "") != (got.System != nil) || !strings.Contains(got.Unknown, c.unknown) {
			t.Errorf("%s: got %+v, want unknown %q", c.name, got, c.unknown)
			continue
		}
		if words := strings.Join(got.Notes, "; "); !strings.Contains(words, c.warns) || c.warns == "" && strings.Contains(words, "more than one map") {
			t.Errorf("%s: warns %q, want %q", c.name, words, c.warns)
		}
	}
}

// TestPageLies: the corners of the map lie where its viewport has them, in a picture of
// the page at twice its size.
func TestPageLies(t *testing.T) {
	t.Parallel()
	f := frame(pdf.Viewport, 3857, [4]float64{0, 0, 400, 250}, 47, 9, 47.01, 9.02)
	d := scan.GeoData{
		Header: scan.Header{Format: "PDF", Width: 800, Height: 600},
		Page:   &pdf.Page{Box: pdf.Box{X1: 400, Y1: 300}, UserUnit: 1, Frames: []pdf.Frame{f}},
	}
	p := Find(d).Georeference
	fit, err := p.Calibration(d.Header)
	if err != nil {
		t.Fatal(err)
	}
	for at, ll := range map[calib.PicturePt]geodesy.LatLon{
		{Col: 0, Row: 600}: geodesy.DegLatLon(47, 9), {Col: 800, Row: 100}: geodesy.DegLatLon(47.01, 9.02),
	} {
		want, _, _, err := p.System.FromWGS84(ll)
		if got := fit.ToGrid(at); err != nil || math.Hypot(got.E-want.E, got.N-want.N) > 0.01*fit.MetresPerPixel() {
			t.Errorf("%v lies at %v, want %v, %v", at, got, want, err)
		}
	}
}

// TestPageThatIsUnread: a page whose dictionaries cannot be read has a georeference that
// is unknown, and says why.
func TestPageThatIsUnread(t *testing.T) {
	t.Parallel()
	p := Find(scan.GeoData{Page: &pdf.Page{Notes: []string{"its structure is damaged"}}}).Georeference
	if p == nil || p.System != nil || p.Unknown != "its structure is damaged" {
		t.Errorf("got %+v, want one that says why it is unknown", p)
	}
	if p := Find(scan.GeoData{Page: &pdf.Page{}}).Georeference; p != nil {
		t.Errorf("a page that says nothing: got %+v, want none", p)
	}
}
