package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"testing"
)

// TestWrittenByQPDF: qpdf writes a document anew, with its objects packed into
// streams, and encrypted by each of the schemes of ISO 32000-2, 7.6, for
// reading without a password. What the page says comes out the same.
func TestWrittenByQPDF(t *testing.T) {
	t.Parallel()
	qpdf, err := exec.LookPath("qpdf")
	if err != nil {
		t.Skip("qpdf is not installed: object streams and encryption are not held against it")
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
		{"RC4 40", []string{"--allow-weak-crypto", "--encrypt", "", "owner", "40", "--"}},
		{"RC4 128", []string{"--allow-weak-crypto", "--encrypt", "", "owner", "128", "--use-aes=n", "--"}},
		{"AES 128", []string{"--allow-weak-crypto", "--encrypt", "", "owner", "128", "--use-aes=y", "--"}},
		{"AES 256", []string{"--encrypt", "", "owner", "256", "--"}},
		{"AES 256 of old", []string{"--allow-weak-crypto", "--encrypt", "", "owner", "256", "--force-R5", "--"}},
		{"AES 256 packed", []string{"--object-streams=generate", "--encrypt", "", "owner", "256", "--cleartext-metadata", "--"}},
		{"AES 128, metadata clear", []string{"--object-streams=generate", "--allow-weak-crypto", "--encrypt", "", "owner", "128", "--use-aes=y", "--cleartext-metadata", "--"}},
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
}
