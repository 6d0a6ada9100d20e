package headless

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// demoPDF writes a document of two pages, an empty one and a piece of the demo's scan at
// 254 pixels per inch.
func demoPDF(t *testing.T) string {
	t.Helper()
	size, err := jpeg.DecodeConfig(bytes.NewReader(cutScan(t)))
	if err != nil {
		t.Fatal(err)
	}
	w, h := float64(size.Width)*72/254, float64(size.Height)*72/254
	draw := fmt.Sprintf("q %f 0 0 %f 0 0 cm /M Do Q", w, h)
	objects := []string{
		"<< /Type /Catalog /Pages 2 0 R >>",
		"<< /Type /Pages /Kids [3 0 R 4 0 R] /Count 2 >>",
		"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 72 72] >>",
		fmt.Sprintf("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 %f %f] /Contents 5 0 R /Resources << /XObject << /M 6 0 R >> >> >>", w, h),
		fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(draw), draw),
		fmt.Sprintf("<< /Type /XObject /Subtype /Image /Width %d /Height %d /ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /DCTDecode /Length %d >>\nstream\n%s\nendstream",
			size.Width, size.Height, len(cutScan(t)), cutScan(t)),
	}
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	var at []int
	for i, o := range objects {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, p := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, xref)
	name := filepath.Join(t.TempDir(), "scan.pdf")
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// TestFindGridOnAPage: the scan on the second page of a PDF is drawn pixel for
// pixel, and its printed grid is the one the scan itself has.
func TestFindGridOnAPage(t *testing.T) {
	t.Parallel()
	o := run(t, "", "find-grid", "--picture", demoPDF(t), "--page", "2", "--json")
	var got struct {
		Lattice  latticeJSON
		Cautions []spoken
	}
	if err := json.Unmarshal([]byte(o.out), &got); err != nil || o.code != 0 {
		t.Fatalf("exit %d, %v: %s%s", o.code, err, o.out, o.err)
	}
	truth := cutMatrix()
	if want := 1000 / math.Hypot(truth[0], truth[1]); !got.Lattice.Found || math.Abs(got.Lattice.SquarePx-want) > 0.05 {
		t.Errorf("got %v, squares of %.2f px, want %.2f", got.Lattice.Found, got.Lattice.SquarePx, want)
	}
	if len(got.Cautions) == 0 || got.Cautions[0].Code != "page-drawn" || !strings.Contains(got.Cautions[0].Text, "Page 2 of 2 is drawn at 254 pixels") {
		t.Errorf("got %v, want the drawing named", got.Cautions)
	}
	for _, page := range []string{"3", "1.5", "0"} {
		if o := run(t, "", "find-grid", "--picture", demoPDF(t), "--page", page); o.code == 0 {
			t.Errorf("page %s: exit 0", page)
		}
	}
}

// TestPageOfATIFF: picture reports the page that was asked for and how many there
// are; a page that is not there is refused, of a single picture too.
func TestPageOfATIFF(t *testing.T) {
	t.Parallel()
	const file = "../../../app/ui/testdata/two-pages.tif"
	o := run(t, "", "picture", file, "--page", "2", "--json")
	var got struct{ Width, Height, Page, Pages int }
	if err := json.Unmarshal([]byte(o.out), &got); err != nil || o.code != 0 {
		t.Fatalf("exit %d, %v: %s%s", o.code, err, o.out, o.err)
	}
	if got.Width != 50 || got.Height != 70 || got.Page != 2 || got.Pages != 2 {
		t.Errorf("got %+v, want page 2 of 2, 50 × 70", got)
	}
	for _, args := range [][]string{
		{"picture", file, "--page", "3"},
		{"picture", locatedDemo(t, "", 0), "--page", "9"},
		{"locate", "--picture", locatedDemo(t, "EPSG:27700", 0), "--page", "7"},
	} {
		if o := run(t, "", args...); o.code == 0 || !strings.Contains(o.err, "no such page") {
			t.Errorf("%v: exit %d, %s; want no such page", args, o.code, o.err)
		}
	}
}
