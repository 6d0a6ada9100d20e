package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
)

// readPages reads the first page's dictionary alone.
func readPages(t testing.TB, data []byte) (Page, error) {
	t.Helper()
	return readPage(patient(t), io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))), 1)
}

// TestReading reads dictionaries of invented maps, and holds the notes on those that
// make no sense. Figures of the first are the worked example of
// this file: a page of 4 × 2 inches at 10 m a point.
func TestReading(t *testing.T) {
	t.Parallel()
	const gcs = "/GCS << /Type /PROJCS /EPSG 32632 >>"
	measure := func(rest string) string {
		return "/VP [<< /Type /Viewport /BBox [0 0 288 144] /Measure << /Type /Measure /Subtype /GEO " + rest + " >> >>]"
	}
	for _, c := range []struct {
		name   string
		page   string
		frames int
		kind   Kind
		points int
		matrix bool
		note   string // in the page's or the frame's
	}{
		{"nothing", "", 0, 0, 0, false, ""},
		{"viewport", measure("/GPTS [47 9 47.1 9 47.1 9.2 47 9.2] /LPTS [0 0 0 1 1 1 1 0] " + gcs), 1, Viewport, 4, false, ""},
		{"no LPTS", measure("/GPTS [47 9 47.1 9 47.1 9.2 47 9.2] " + gcs), 1, Viewport, 4, false, ""},
		{"no GCS", measure("/GPTS [47 9 47.1 9 47.1 9.2 47 9.2]"), 1, Viewport, 4, false, "names neither grid nor datum"},
		{"two points", measure("/GPTS [47 9 47.1 9] /LPTS [0 0 1 1] " + gcs), 0, 0, 0, false, "three or more"},
		{"unequal lists", measure("/GPTS [47 9 47.1 9 47.1 9.2] /LPTS [0 0 1 1] " + gcs), 0, 0, 0, false, "in LPTS"},
		{"swapped latitude", measure("/GPTS [147 9 47.1 9 47.1 9.2] /LPTS [0 0 1 1 1 0] " + gcs), 0, 0, 0, false, "latitude 147"},
		{"a ruler", "/VP [<< /BBox [0 0 9 9] /Measure << /Subtype /RL >> >>]", 0, 0, 0, false, ""},
		{"flat box", "/VP [<< /BBox [0 0 0 9] /Measure << /Subtype /GEO >> >>]", 0, 0, 0, false, "rectangle"},
		{"nonsense for a list", "/VP 17 /LGIDict (no)", 0, 0, 0, false, ""},
		{"matrix", "/LGIDict << /CTM [(10) (0) (0) (10) (300000) (5200000)] /Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (WGE) >> >>", 1, Registration, 0, true, ""},
		{"matrix of nothing", "/LGIDict << /CTM [0 0 0 0 3 5] >>", 0, 0, 0, false, "no area"},
		{"ties", "/LGIDict [<< /Registration [[0 0 1 2] [9 0 5 2] [0 9 1 8]] >>]", 1, Registration, 3, false, "does not name"},
		{"unknown datum", "/LGIDict << /CTM [1 0 0 1 3 5] /Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (XYZ) >> >>", 1, Registration, 0, true, "XYZ"},
		{"unknown projection", "/LGIDict << /CTM [1 0 0 1 3 5] /Projection << /ProjectionType (NY) /Datum (WGE) >> >>", 1, Registration, 0, true, "NY"},
		{"zone 61", "/LGIDict << /CTM [1 0 0 1 3 5] /Projection << /ProjectionType (UT) /Zone 61 /Hemisphere (N) /Datum (WGE) >> >>", 1, Registration, 0, true, "zone 61"},
		{"both", measure("/GPTS [47 9 47.1 9 47.1 9.2 47 9.2] "+gcs) + " /LGIDict << /CTM [1 0 0 1 3 5] >>", 2, Registration, 0, true, "does not name"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p, err := readPages(t, made{page: c.page}.bytes())
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Frames) != c.frames {
				t.Fatalf("got %d frames, want %d (%v)", len(p.Frames), c.frames, p.Notes)
			}
			said := strings.Join(p.Notes, "; ")
			if c.frames > 0 {
				f := p.Frames[0]
				said += strings.Join(f.Notes, "; ")
				if f.Kind != c.kind || len(f.Points) != c.points || (f.Matrix != nil) != c.matrix {
					t.Errorf("got %v, %d points, matrix %v; want %v, %d, %v", f.Kind, len(f.Points), f.Matrix, c.kind, c.points, c.matrix)
				}
			}
			if (said == "") != (c.note == "") || !strings.Contains(said, c.note) {
				t.Errorf("said %q, want it to hold %q", said, c.note)
			}
		})
	}
}

// TestLargest: of two maps on a page the larger one places the sheet.
func TestLargest(t *testing.T) {
	t.Parallel()
	port := func(box, epsg string) string {
		return "<< /BBox [" + box + "] /Measure << /Subtype /GEO /GPTS [47 9 47.1 9 47.1 9.2 47 9.2] /GCS << /EPSG " + epsg + " >> >> >>"
	}
	p, err := readPages(t, made{page: "/VP [" + port("200 10 280 60", "32631") + port("10 10 180 130", "32632") + "]"}.bytes())
	if err != nil || len(p.Frames) != 2 {
		t.Fatalf("%v, %d frames", err, len(p.Frames))
	}
	if got := p.Frames[0].EPSG; got != 32632 {
		t.Errorf("got the inset's grid %d, want 32632", got)
	}
	whole := "/LGIDict << /CTM [20 0 0 20 612000 5261000] /Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (WGE) >> >>"
	if p, err = readPages(t, made{page: whole + " /VP [" + port("10 10 180 130", "32631") + "]"}.bytes()); err != nil || len(p.Frames) != 2 {
		t.Fatalf("%v, %d frames", err, len(p.Frames))
	}
	if f := p.Frames[0]; f.Kind != Registration || len(f.Outline) != 4 {
		t.Errorf("got %v with %d corners first, want the registration of the whole page", f.Kind, len(f.Outline))
	}
}

// TestContradictions: what a file says twice must agree.
func TestContradictions(t *testing.T) {
	t.Parallel()
	const (
		utm    = "/Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (WGE) >>"
		zone33 = `(PROJCS["z",GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
			`PROJECTION["Transverse_Mercator"],PARAMETER["central_meridian",15],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],UNIT["metre",1]])`
	)
	ties := func(east string) string {
		return "/LGIDict << /CTM [20 0 0 20 612000 5261000] /Registration [[0 0 " + east + " 5261000] [100 0 614000 5261000] [0 100 612000 5263000]] " + utm + " >>"
	}
	port := func(wkt string) string {
		return "/VP [<< /BBox [0 0 200 150] /Measure << /Subtype /GEO /GPTS [47 9 47.1 9 47.1 9.2 47 9.2] /LPTS [0 0 0 1 1 1 1 0] /GCS << /Type /PROJCS /EPSG 32632 " + wkt + " >> >> >>]"
	}
	for _, c := range []struct{ name, page, want string }{
		{"points that agree", ties("612000"), ""},
		{"a point 100 km away", ties("712000"), "one of the two is wrong"},
		{"a code alone", port(""), ""},
		{"a code and another grid's definition", port("/WKT " + zone33), "names its grid twice"},
	} {
		p, err := readPages(t, made{page: c.page}.bytes())
		if err != nil || len(p.Frames) != 1 {
			t.Fatalf("%s: %v, %d frames (%v)", c.name, err, len(p.Frames), p.Notes)
		}
		l, err := p.Frames[0].Locate(p, 600, 450)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		words := strings.Join(append(p.Frames[0].Notes, l.Notes...), "; ")
		if !strings.Contains(words, c.want) || c.want == "" && words != "" {
			t.Errorf("%s: notes %q, want %q", c.name, words, c.want)
		}
	}
}

// TestDownwardBox: a viewport whose BBox runs from the upper left to the lower
// right turns its unit square with it (ISO 32000-2, table 265).
func TestDownwardBox(t *testing.T) {
	t.Parallel()
	p, err := readPages(t, made{page: "/VP [<< /BBox [0 144 288 0] /Measure << /Subtype /GEO /GPTS [47 9 46.9 9 46.9 9.2] /LPTS [0 0 0 1 1 1] >> >>]"}.bytes())
	if err != nil || len(p.Frames) != 1 {
		t.Fatalf("%v, %d frames", err, len(p.Frames))
	}
	if got, want := p.Frames[0].Points[1], (Point{0, 0, 9, 46.9}); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

// FuzzPDFGeo feeds the reader of dictionaries with documents and with entries
// of a page in a sound one.
func FuzzPDFGeo(f *testing.F) {
	for _, s := range []string{
		"/VP [<< /BBox [0 0 288 144] /Measure << /Subtype /GEO /GPTS [47 9 47.1 9 47.1 9.2 47 9.2] /LPTS [0 0 0 1 1 1 1 0] /GCS << /EPSG 32632 >> >> >>]",
		"/LGIDict << /CTM [(10) (0) (0) (10) (300000) (5200000)] /Neatline [0 0 0 9 9 9] /Projection << /ProjectionType (TC) /CentralMeridian -2 /ScaleFactor (0.9996) /Datum << /Ellipsoid << /SemiMajorAxis 6378137 /InvFlattening (298.25) >> /ToWGS84 << /dx 1 /dy 2 /dz 3 >> >> /Units (FT) >> >>",
		"/LGIDict [<< /Registration [[0 0 1 2] [9 0 5 2] [0 9 1 8]] >> 17 null] /Rotate 90 /CropBox [1 1 2 2] /UserUnit 3",
		"/VP [4 0 R << /Measure 4 0 R >>] /LGIDict 4 0 R",
	} {
		f.Add([]byte(s), true)
		f.Add(made{page: s}.bytes(), false)
	}
	f.Fuzz(func(t *testing.T, in []byte, inside bool) {
		data := in
		if inside {
			data = made{page: string(in)}.bytes()
		}
		p, err := readPage(t.Context(), io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))), 1)
		if errors.Is(err, ErrEngine) {
			t.Fatal(err) // a panic
		}
		if err != nil {
			return
		}
		if w, h := p.Size(); !(w > 0 && h > 0) || p.UserUnit < 1 || p.Rotate%90 != 0 {
			t.Fatalf("a page of %g × %g, unit %g, turned %d", w, h, p.UserUnit, p.Rotate)
		}
		for _, frame := range p.Frames {
			l, err := frame.Locate(p, 200, 100)
			if err != nil || l.Matrix == nil {
				continue
			}
			for _, v := range l.Matrix {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("matrix %v", *l.Matrix)
				}
			}
		}
	})
}

// TestAStreamOfObjectsWithinItself: the length of a stream of objects may not
// stand within it. Who follows it there runs out of stack, which ends the program.
func TestAStreamOfObjectsWithinItself(t *testing.T) {
	t.Parallel()
	const head = "%PDF-1.5\n"
	table := "1 0 obj<</Type/XRef/W[1 2 1]/Size 6/Root 5 0 R/Length 24>>stream\n"
	rest := fmt.Sprintf("\nendstream endobj\nstartxref\n%d\n%%%%EOF\n", len(head))
	at := len(head) + len(table) + 24 + len(rest)
	rows := []byte{
		0, 0, 0, 0, 1, 0, byte(len(head)), 0, 0, 0, 0, 0, 0, 0, 0, 0,
		1, byte(at >> 8), byte(at), 0, // object 4: the stream
		2, 0, 4, 0, // object 5: in it
	}
	file := head + table + string(rows) + rest + "4 0 obj<</Length 5 0 R>>stream\n"
	_, err := readPage(t.Context(), io.NewSectionReader(strings.NewReader(file), 0, int64(len(file))), 1)
	if !errors.Is(err, errDictionary) {
		t.Errorf("got %v, want that the structure cannot be read", err)
	}
}
