package headless

import (
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// blackSheet is a JPEG of 3000 × 2000 black pixels.
var blackSheet = sync.OnceValues(func() (string, error) {
	var b strings.Builder
	err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 3000, 2000)), nil)
	return b.String(), err
})

// photoFile writes a blank JPEG of 3000 × 2000 pixels, with the focal length of
// a camera where it is to be a photograph (EXIF 2.3, JEITA CP-3451).
func photoFile(t *testing.T, photo bool) string {
	t.Helper()
	data, err := blackSheet()
	if err != nil {
		t.Fatal(err)
	}
	if photo {
		block := "Exif\x00\x00MM\x00*\x00\x00\x00\x08" +
			"\x00\x01\x87\x69\x00\x04\x00\x00\x00\x01\x00\x00\x00\x1a\x00\x00\x00\x00" + // points to byte 26
			"\x00\x01\x92\x0a\x00\x05\x00\x00\x00\x01\x00\x00\x00\x2c\x00\x00\x00\x00" + // focal length at byte 44
			"\x00\x00\x00\x1a\x00\x00\x00\x01"
		data = data[:2] + "\xff\xe1" + string([]byte{0, byte(len(block) + 2)}) + block + data[2:]
	}
	name := filepath.Join(t.TempDir(), "sheet.jpg")
	if err := os.WriteFile(name, []byte(data), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// With a picture beside them, control points that do not carry it are warned
// of, and a position out of their reach is not trusted.
func TestReachOfPoints(t *testing.T) {
	t.Parallel()
	scan, photo := photoFile(t, false), photoFile(t, true)
	csv := func(cols ...float64) string {
		out := "col,row,easting,northing\n"
		for i := 0; i < len(cols); i += 2 {
			out += fmt.Sprintf("%g,%g,%g,%g\n", cols[i], cols[i+1], 230000+5*cols[i], 750000-5*cols[i+1])
		}
		return out
	}
	for _, tc := range []struct {
		name, picture, points string
		code                  string
		trusted               bool // of 2850,1500
	}{
		{"all over", scan, csv(100, 100, 2900, 150, 1500, 1900), "", true},
		{"in one part", scan, csv(100, 100, 500, 150, 200, 400), "short-reach", true},
		{"in a corner", scan, csv(100, 100, 200, 120, 120, 210), "short-reach", false},
		{"on a line", scan, csv(100, 100, 1500, 100, 2900, 100), "short-reach", true},
		{"two of a photograph", photo, csv(100, 100, 2900, 1900), "photo-needs-five", false},
	} {
		o := run(t, tc.points, "fit", "--grid", "EPSG:27700", "--points", "-", "--picture", tc.picture, "--at", "2850,1500", "--json").object(t)
		if got := fmt.Sprint(o["cautions"]); !strings.Contains(got, tc.code) {
			t.Errorf("%s: cautions %s, want %q", tc.name, got, tc.code)
		}
		for _, code := range []string{"short-reach", "photo-needs-five"} {
			if code != tc.code && strings.Contains(fmt.Sprint(o["cautions"]), code) {
				t.Errorf("%s: warned of %s", tc.name, code)
			}
		}
		if got := o["at"].([]any)[0].(map[string]any)["trusted"]; got != tc.trusted {
			t.Errorf("%s: trusted %v, want %v", tc.name, got, tc.trusted)
		}
	}
	if got := run(t, "", "fit", "--grid", "EPSG:27700", "--picture", scan); got.code != 2 {
		t.Errorf("a picture without points: exit %d, want 2", got.code)
	}
}
