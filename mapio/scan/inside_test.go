package scan

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"legwright/mapio/openfile"
)

const kmlHead = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.3" xmlns:gx="http://www.google.com/kml/ext/2.2"><Document><Folder>`

const kmlFoot = `</Folder></Document></kml>`

// overlayKML writes a ground overlay; where is what says where it lies.
func overlayKML(href, where string) string {
	return "<GroundOverlay><name>sheet</name><Icon><href>" + href + "</href></Icon>" + where + "</GroundOverlay>"
}

func boxKML(north, south, east, west, rotation float64) string {
	return fmt.Sprintf("<LatLonBox><north>%.12f</north><south>%.12f</south><east>%.12f</east><west>%.12f</west><rotation>%g</rotation></LatLonBox>",
		north, south, east, west, rotation)
}

func kmzOf(t testing.TB, entries ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i+1 < len(entries); i += 2 {
		w, err := z.Create(entries[i])
		if err == nil {
			_, err = w.Write([]byte(entries[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The picture of an overlay opens as itself: from the folder, from an archive,
// the one that is asked for of several.
func TestOverlayOpens(t *testing.T) {
	t.Parallel()
	first, second := ramp(60, 40, 2), ramp(50, 70, 1)
	where := boxKML(63.01, 63, 13.02, 13, 0)
	one := kmlHead + overlayKML("maps/a%20b.png", where) + kmlFoot
	two := kmlHead + overlayKML("", where) + overlayKML("files/1.tif", where) + overlayKML(`files\2.png`, where) + kmlFoot
	pages := pagesTIFF(madePage{first, 0}, madePage{second, 0}) // its own pages are not asked for
	fsys := fstest.MapFS{
		"d/one.kml":        {Data: []byte(one)},
		"d/maps/a b.png":   {Data: pngOf(t, first)},
		"two.KMZ":          {Data: kmzOf(t, "sub/x.kml", "nonsense", "doc.kml", two, "files/1.tif", string(pages), "files/2.png", string(pngOf(t, second)))},
		"really-a-zip.kml": {Data: kmzOf(t, "in/doc.kml", one, "in/maps/a b.png", string(pngOf(t, first)))},
	}
	for _, c := range []struct {
		name   string
		number int
		want   *image.Gray
		is, of int
	}{
		{"d/one.kml", 0, first, 0, 0},
		{"d/one.kml", 1, first, 0, 0},
		{"two.KMZ", 0, first, 1, 2},
		{"two.KMZ", 2, second, 2, 2},
		{"really-a-zip.kml", 0, first, 0, 0},
	} {
		s, err := Open(t.Context(), fsys, c.name, Options{Page: c.number})
		if err != nil {
			t.Fatal(err)
		}
		g, ok := s.Image.(*image.Gray)
		if !ok || g.Rect != c.want.Rect || !bytes.Equal(g.Pix, c.want.Pix) {
			t.Errorf("%s %d is another picture", c.name, c.number)
		}
		if s.Header.Page != c.is || s.Header.Pages != c.of || s.Geo.Overlay == nil || s.Geo.Overlay.File != path.Base(c.name) {
			t.Errorf("%s %d: got %+v with %+v, want picture %d of %d and its overlay", c.name, c.number, s.Header, s.Geo.Overlay, c.is, c.of)
		}
		inner, name, err := Inside(fsys, c.name, c.number)
		if err != nil {
			t.Fatal(err)
		}
		raw, err := fs.ReadFile(inner, name)
		if err != nil || int64(len(raw)) == 0 {
			t.Errorf("%s: inside is %q, %v", c.name, name, err)
		}
		h, err := ReadHeader(inner, name)
		if err != nil || h != s.Header {
			t.Errorf("%s: inside has %+v, %v, want %+v", c.name, h, err, s.Header)
		}
	}
}

// What cannot be opened or placed is refused in a sentence.
func TestOverlayRefused(t *testing.T) {
	t.Parallel()
	where := boxKML(63.01, 63, 13.02, 13, 0)
	pic := string(pngOf(t, ramp(60, 40, 2)))
	doc := func(href, where string) string { return kmlHead + overlayKML(href, where) + kmlFoot }
	for _, c := range []struct {
		name string
		data []byte
		kind error
		says string
	}{
		{"climbs.kml", []byte(doc("../s.png", where)), ErrLink, "out of the file's folder"},
		{"climbs-hidden.kml", []byte(doc("a/%2e%2e/%2e%2e/s.png", where)), ErrLink, "out of the file's folder"},
		{"climbs.kmz", kmzOf(t, "doc.kml", doc(`..\..\s.png`, where), "s.png", pic), ErrLink, "out of the file's folder"},
		{"absolute.kml", []byte(doc("/etc/s.png", where)), ErrLink, "absolute"},
		{"drive.kml", []byte(doc(`C:\maps\s.png`, where)), ErrLink, "absolute"},
		{"file.kml", []byte(doc("file:///s.png", where)), ErrLink, "absolute"},
		{"net.kml", []byte(doc("https://invented.example/s.png", where)), ErrLink, "on the internet"},
		{"missing.kml", []byte(doc("t.png", where)), ErrLink, "no \"t.png\""},
		{"missing.kmz", kmzOf(t, "doc.kml", doc("t.png", where)), ErrLink, "no \"t.png\""},
		{"empty.kml", []byte(kmlHead + kmlFoot), ErrNotPicture, "lays no picture over the ground"},
		{"other.kml", []byte("<gpx></gpx>"), ErrNotPicture, "<gpx>"},
		{"text.kml", []byte("here it lies"), ErrNotPicture, ""},
		{"cut.kml", []byte(doc("s.png", where)[:200]), ErrNotPicture, ""},
		{"nothing.kmz", kmzOf(t, "s.png", pic), ErrNotPicture, "contains none"},
		{"cut.kmz", kmzOf(t, "doc.kml", doc("s.png", where), "s.png", pic)[:300], ErrCorrupt, ""},
		{"pdf.kmz", kmzOf(t, "doc.kml", doc("s.pdf", where), "s.pdf", "%PDF-1.7\n"), ErrUnsupported, "PDF"},
		{"big.kmz", kmzOf(t, "doc.kml", "<kml>"+strings.Repeat(" ", 17<<20)), ErrTooLarge, "at most 16"},
	} {
		_, err := Open(t.Context(), fstest.MapFS{c.name: {Data: c.data}, "s.png": {Data: []byte(pic)}}, c.name, Options{})
		if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: got %v, want %v with %q", c.name, err, c.kind, c.says)
		}
	}
	if _, err := Open(t.Context(), fstest.MapFS{"a.kml": {Data: []byte(doc("s.png", where))}, "s.png": {Data: []byte(pic)}}, "a.kml", Options{Page: 2}); !errors.Is(err, ErrNoPage) {
		t.Errorf("the second of one: got %v, want ErrNoPage", err)
	}
}

// A link in the folder of a KML file is followed inside that folder alone.
func TestOverlayLinks(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	where := boxKML(63.01, 63, 13.02, 13, 0)
	if err := os.MkdirAll(filepath.Join(dir, "in", "maps"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"secret.png": pngOf(t, ramp(60, 40, 2)), "in/maps/a.png": pngOf(t, ramp(60, 40, 2)),
		"in/out.kml": []byte(kmlHead + overlayKML("out.png", where) + kmlFoot), "in/up.kml": []byte(kmlHead + overlayKML("up/secret.png", where) + kmlFoot),
		"in/within.kml": []byte(kmlHead + overlayKML("within.png", where) + kmlFoot),
	} {
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{"out.png": "../secret.png", "up": "..", "within.png": "maps/a.png", "linked.kml": "within.kml"} {
		if err := os.Symlink(filepath.FromSlash(to), filepath.Join(dir, "in", name)); err != nil {
			t.Skip("this system makes no symbolic links")
		}
	}
	for name, opens := range map[string]bool{"out.kml": false, "up.kml": false, "within.kml": true, "linked.kml": true} {
		fsys, base := openfile.Picked(filepath.Join(dir, "in", name))
		_, err := Open(t.Context(), fsys, base, Options{})
		if opens != (err == nil) || !opens && (!errors.Is(err, ErrLink) || !strings.Contains(err.Error(), "leads out of the folder")) {
			t.Errorf("%s: %v, want it opened: %v", name, err, opens)
		}
	}
}
