package pdf

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"testing"
)

// TestWrittenByQPDF: qpdf writes a document anew, with its objects packed into
// streams or one by one. What the page says comes out the same. Of one that is
// protected against changes it stays unread, with the reason.
func TestWrittenByQPDF(t *testing.T) {
	t.Parallel()
	qpdf, err := exec.LookPath("qpdf")
	if err != nil {
		t.Skip("qpdf is not installed: object streams are not checked against it")
	}
	dir := t.TempDir()
	from := filepath.Join(dir, "from.pdf")
	m := made{
		page: "/VP 5 0 R /LGIDict << /CTM [(10) (0) (0) (10) (300000) (5200000)] /Neatline [0 0 0 9 9 9]" +
			" /Projection << /ProjectionType (UT) /Zone 32 /Hemisphere (N) /Datum (WGE) >> >>",
		objects: []string{
			"[<< /Type /Viewport /BBox [0 0 288 144] /Measure << /Type /Measure /Subtype /GEO" +
				" /GPTS [47 9 47.1 9 47.1 9.2 47 9.2] /GCS << /EPSG 32632 /WKT (GEOGCS[\"a (b) \\\\ c\"]) >> >> >>]",
		},
	}
	if err := os.WriteFile(from, m.bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	want, err := readPages(t, m.bytes())
	if err != nil || len(want.Frames) != 2 {
		t.Fatalf("%v, %d frames", err, len(want.Frames))
	}
	for _, c := range []struct {
		name string
		args []string
	}{
		{"packed", []string{"--object-streams=generate"}},
		{"plain", []string{"--object-streams=disable"}},
		{"linearized", []string{"--linearize", "--object-streams=generate"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			to := filepath.Join(t.TempDir(), "to.pdf")
			out, err := exec.Command(qpdf, append(c.args, from, to)...).CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			data, err := os.ReadFile(to)
			if err != nil {
				t.Fatal(err)
			}
			if clear := bytes.Contains(data, []byte("GEOGCS")); clear != (c.name == "plain") {
				t.Errorf("the text can be read in the file: %v", clear)
			}
			got, err := readPages(t, data)
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("got %+v (%v), want %+v", got, err, want)
			}
		})
	}
	to := filepath.Join(dir, "protected.pdf")
	if out, err := exec.Command(qpdf, "--encrypt", "", "owner", "256", "--", from, to).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	data, err := os.ReadFile(to)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := readPages(t, data); !errors.Is(err, errProtected) {
		t.Errorf("protected: %+v, %v; want %v", got, err, errProtected)
	}
}
