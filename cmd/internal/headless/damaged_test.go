package headless

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/tiff"
)

// A picture that is cut off is refused, whatever its format, in words that say
// what to do, and nothing is written of it.
func TestCutOffPicturesAreRefused(t *testing.T) {
	t.Parallel()
	m := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for i := range m.Pix {
		m.Pix[i] = uint8(i*i>>7) | 3
	}
	webp := func(w io.Writer) error {
		data, err := os.ReadFile("../../../mapio/scan/testdata/address_lossy.webp")
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	}
	for name, encode := range map[string]func(io.Writer) error{
		"a.png": func(w io.Writer) error { return png.Encode(w, m) },
		"a.jpg": func(w io.Writer) error { return jpeg.Encode(w, m, nil) },
		"progressive.jpg": func(w io.Writer) error {
			return jpegn.Encode(w, m, &jpegn.EncodeOptions{Quality: 90, Progressive: true})
		},
		"a.tif":  func(w io.Writer) error { return tiff.Encode(w, m, nil) },
		"a.webp": webp,
	} {
		var b bytes.Buffer
		if err := encode(&b); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, b.Bytes()[:b.Len()*3/4], 0o600); err != nil {
			t.Fatal(err)
		}
		o := run(t, "", "find-grid", "--picture", path)
		if o.code != 1 || o.out != "" || !strings.Contains(o.err, "again from the original") {
			t.Errorf("%s: exit %d, %q, %q; want 1 and what to do", name, o.code, o.out, o.err)
		}
	}
}
