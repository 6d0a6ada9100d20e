package kml

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"math"
	"strings"
	"testing"
)

func TestRead(t *testing.T) {
	t.Parallel()
	const text = `<?xml version="1.0" encoding="ISO-8859-1"?>
<kml xmlns="http://www.opengis.net/kml/2.3"><Document><name>not this</name>
<GroundOverlay><color>ff0000ff</color><LatLonBox><north>1</north><south>0</south><east>1</east><west>0</west></LatLonBox></GroundOverlay>
<Placemark><name>not this</name><Icon><href>not-this.png</href></Icon></Placemark>
<Folder><GroundOverlay><name> Gr` + "\xfc" + `n &amp; hoch </name><Icon><href><![CDATA[a b.png]]></href></Icon>
 <LatLonBox><north>10.5</north><south>-10</south><east>-179</east><west>179</west><rotation>-190</rotation></LatLonBox></GroundOverlay>
<GroundOverlay><Icon><href>q.jpg</href></Icon><LatLonBox><north>1</north></LatLonBox>
 <LatLonQuad><coordinates> 1,2,0  3,2.5 3,4,0
 1,4.5,100 </coordinates></LatLonQuad></GroundOverlay></Folder></Document></kml>`
	got, err := Read(strings.NewReader(text))
	if err != nil || len(got) != 2 {
		t.Fatalf("got %d overlays, %v, want 2", len(got), err)
	}
	if o := got[0]; o.Name != "Grün & hoch" || o.Href != "a b.png" || o.Quad != nil || o.Box == nil || *o.Box != (Box{10.5, -10, 181, 179, 170}) {
		t.Errorf("got %+v over %+v", o, o.Box)
	}
	if o := got[1]; o.Href != "q.jpg" || o.Box != nil || o.Quad == nil || *o.Quad != [4]LatLon{{2, 1}, {2.5, 3}, {4, 3}, {4.5, 1}} {
		t.Errorf("got %+v over %+v", o, o.Quad)
	}
}

// A document in UTF-16, as some programs save it, is read like any other.
func TestReadUTF16(t *testing.T) {
	t.Parallel()
	const text = `<?xml version="1.0" encoding="UTF-16"?><kml><GroundOverlay><name>Grün 山</name><Icon><href>s.png</href></Icon>` +
		`<LatLonBox><north>2</north><south>1</south><east>2</east><west>1</west></LatLonBox></GroundOverlay></kml>`
	for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
		var b []byte
		for _, r := range "\ufeff" + text {
			b = order.AppendUint16(b, uint16(r))
		}
		got, err := Read(bytes.NewReader(b))
		if err != nil || len(got) != 1 || got[0].Name != "Grün 山" || got[0].Box == nil {
			t.Errorf("%v: got %+v, %v", order, got, err)
		}
	}
}

// What is not a document is refused in words for people.
func TestReadRefusesInWords(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                           "empty or plain text",
		"here it lies":               "empty or plain text",
		"<kml>\n<Folder>":            "cut off in line 2",
		"<kml><a>\xff\xff</a></kml>": "save it as UTF-8",
		"<kml>\n\n<a></b></kml>":     "line 3 is not well-formed",
	} {
		if _, err := Read(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		kind       error
	}{
		{"nothing", "", ErrNotKML},
		{"another root", "<html></html>", ErrNotKML},
		{"cut", "<kml><Document>", ErrNotKML},
		{"no overlay", "<kml></kml>", ErrNoOverlay},
		{"another encoding", `<?xml version="1.0" encoding="UTF-7"?><kml></kml>`, ErrNotKML},
		{"deep", "<kml>" + strings.Repeat("<Folder>", 200), ErrTooLarge},
		{"long", "<kml>" + strings.Repeat(" ", MaxDocument+2), ErrTooLarge},
		{"entity of its own", `<!DOCTYPE kml [<!ENTITY a "aaaa">]><kml>&a;</kml>`, ErrNotKML},
	} {
		if _, err := Read(strings.NewReader(c.text)); !errors.Is(err, c.kind) {
			t.Errorf("%s: got %v, want %v", c.name, err, c.kind)
		}
	}
}

func TestPath(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		href string
		want string // names with bars between, "" for a refusal
	}{
		{"a.png", "a.png"},
		{"./maps/../maps/a.png", "maps/a.png"},
		{`maps\a.png`, "maps/a.png"},
		{"a%20b.png", "a%20b.png|a b.png"},
		{"50%.png", "50%.png"},
		{"..", ""},
		{"../a.png", ""},
		{`maps\..\..\a.png`, ""},
		{"maps/%2e%2e/%2e%2e/a.png", ""},
		{"/a.png", ""},
		{`\\server\a.png`, ""},
		{"C:/a.png", ""},
		{"file:///a.png", ""},
		{"HTTP://invented.example/a.png", ""},
		{"data:image/png;base64,AA", ""},
		{"", ""},
		{"a\x00.png", ""},
	} {
		got, err := Overlay{Href: c.href}.Path()
		if strings.Join(got, "|") != c.want || (err != nil) != (c.want == "") || err != nil && !errors.Is(err, ErrLink) {
			t.Errorf("%q: got %q, %v, want %q", c.href, got, err, c.want)
		}
	}
}

// bombed is an archive whose picture unpacks to much more than it takes.
func bombed(t *testing.T, size int) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, data := range map[string][]byte{
		"doc.kml": []byte(`<kml><GroundOverlay><Icon><href>a.bmp</href></Icon><LatLonBox><north>1</north><south>0</south><east>1</east><west>0</west></LatLonBox></GroundOverlay></kml>`),
		"a.bmp":   make([]byte, size),
	} {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
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

// What an entry claims of its size is not believed, and no more than the limit
// is unpacked.
func TestArchiveIsHeldToItsLimits(t *testing.T) {
	t.Parallel()
	raw := bombed(t, 3<<20)
	a, err := OpenArchive(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	list, err := a.Overlays()
	if err != nil {
		t.Fatal(err)
	}
	if data, name, _, err := a.Picture(list[0]); err != nil || name != "a.bmp" || len(data) != 3<<20 {
		t.Errorf("got %d bytes of %q, %v", len(data), name, err)
	}
	for _, f := range a.zip.File {
		if f.Name != "a.bmp" {
			continue
		}
		if _, err := unpack(f, 1<<20); !errors.Is(err, ErrTooLarge) {
			t.Errorf("beyond the limit: got %v, want ErrTooLarge", err)
		}
		f.UncompressedSize64 = 100 // a lie
		if data, err := unpack(f, 1<<20); err == nil || len(data) != 0 {
			t.Errorf("with a lie: got %d bytes, %v, want an error", len(data), err)
		}
		f.UncompressedSize64, f.Flags = 100, f.Flags|1
		if _, err := unpack(f, 1<<20); !errors.Is(err, ErrLocked) || errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "password: save") {
			t.Errorf("locked: got %v", err)
		}
	}
}

// FuzzRead: whatever the bytes, overlays that lie somewhere or say why not.
func FuzzRead(f *testing.F) {
	f.Add([]byte(`<kml><GroundOverlay><name>x</name><Icon><href>a/b.png</href></Icon><LatLonBox><north>56</north><south>55.93</south><east>-3.9</east><west>-4</west><rotation>12</rotation></LatLonBox></GroundOverlay></kml>`))
	f.Add([]byte(`<kml><GroundOverlay><Icon><href>a.png</href></Icon><gx:LatLonQuad><coordinates>1,2 3,2 3,4 1,4</coordinates></gx:LatLonQuad></GroundOverlay></kml>`))
	f.Add([]byte(`<?xml version="1.0" encoding="windows-1252"?><kml><Folder><GroundOverlay><Icon><href>..\a.png</href></Icon><LatLonBox><north>1e999</north></LatLonBox></GroundOverlay></Folder></kml>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := Read(bytes.NewReader(data))
		if (err == nil) != (len(list) > 0) {
			t.Errorf("%d overlays and %v", len(list), err)
		}
		for _, o := range list {
			checkOverlay(t, o)
		}
	})
}

func checkOverlay(t *testing.T, o Overlay) {
	t.Helper()
	set := 0
	if o.Box != nil {
		set++
		if b := *o.Box; !(b.South < b.North && b.South >= -90 && b.North <= 90 && b.West < b.East && b.East-b.West <= 360 && math.Abs(b.Rotation) <= 180) {
			t.Errorf("box %+v passed", b)
		}
	}
	if o.Quad != nil {
		set++
		for _, c := range o.Quad {
			if !(math.Abs(c.Lat) <= 90 && math.Abs(c.Lon) <= 720) {
				t.Errorf("corner %+v passed", c)
			}
		}
	}
	if (set == 1) != (o.Problem == nil) || set > 1 || o.Href == "" {
		t.Errorf("overlay %+v", o)
	}
	names, err := o.Path()
	for _, n := range names {
		if err != nil || n == "" || n[0] == '/' || strings.HasPrefix(n+"/", "../") || strings.Contains(n, "/../") {
			t.Errorf("path %q of %q, %v", n, o.Href, err)
		}
	}
}

// FuzzArchive: whatever the bytes, an error or a document and pictures within
// the limits.
func FuzzArchive(f *testing.F) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, _ := z.Create("doc.kml")
	_, _ = w.Write([]byte(`<kml><GroundOverlay><Icon><href>a.png</href></Icon></GroundOverlay></kml>`))
	w, _ = z.CreateHeader(&zip.FileHeader{Name: "a.png", Method: zip.Store})
	_, _ = w.Write([]byte("a picture"))
	_ = z.Close()
	f.Add(b.Bytes())
	f.Add(b.Bytes()[:100])
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := OpenArchive(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			return
		}
		list, _ := a.Overlays()
		for _, o := range list {
			checkOverlay(t, o)
			if pic, _, _, err := a.Picture(o); err == nil && len(pic) > MaxPicture {
				t.Errorf("%d bytes unpacked", len(pic))
			}
		}
	})
}
