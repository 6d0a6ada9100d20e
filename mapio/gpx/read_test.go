package gpx

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// referenceEnv names the folder of reference files that are read in place.
const referenceEnv = "LEGWRIGHT_REFERENCE"

func wrap(body string) string {
	return `<?xml version="1.0" encoding="UTF-8"?><gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">` + body + `</gpx>`
}

func TestRoundTrip(t *testing.T) {
	t.Parallel()
	d := made()
	got, err := Read(bytes.NewReader(written(t, d, Options{Time: noon(), Track: true})))
	if err != nil {
		t.Fatal(err)
	}
	if got.Title != d.Title || len(got.Marks) != 2 || len(got.Routes) != 1 || len(got.Tracks) != 1 {
		t.Fatalf("got title %q, %d marks, %d routes, %d tracks; want %q, 2, 1, 1",
			got.Title, len(got.Marks), len(got.Routes), len(got.Tracks), d.Title)
	}
	for i, p := range got.Routes[0].Points {
		want := d.Routes[0].Points[i]
		if p.Name != want.Name || math.Abs((p.At.Lat-want.At.Lat).Deg()) > 1e-8 || math.Abs((p.At.Lon-want.At.Lon).Deg()) > 1e-8 {
			t.Errorf("point %d = %+v, want %+v", i, p, want)
		}
	}
}

func TestReadTolerates(t *testing.T) {
	t.Parallel()
	pt := func(ele string) string { return `<wpt lat="56" lon="-8"><ele>` + ele + `</ele><name>x</name></wpt>` }
	for name, text := range map[string]string{
		"plain":                wrap(pt("12.5")),
		"a height of no digit": wrap(pt("n/a")),
		"unknown elements":     wrap(`<extensions><deep><name>no</name></deep></extensions>` + pt("3")),
		"no declaration":       strings.TrimPrefix(wrap(pt("3")), `<?xml version="1.0" encoding="UTF-8"?>`),
		"time with an offset":  wrap(`<wpt lat="56" lon="-8"><time>2026-01-01T10:00:00.5+02:00</time><name>x</name></wpt>`),
	} {
		d, err := Read(strings.NewReader(text))
		if err != nil || len(d.Marks) != 1 || d.Marks[0].Name != "x" {
			t.Errorf("%s: %+v, %v, want one mark named x", name, d, err)
		}
	}
}

func TestReadVersion10HeadsTheFile(t *testing.T) {
	t.Parallel()
	d, err := Read(strings.NewReader(`<gpx version="1.0" xmlns="http://www.topografix.com/GPX/1/0"><name>Old</name><desc>way</desc>` +
		`<rte><name>r</name><rtept lat="1" lon="2"/></rte></gpx>`))
	if err != nil {
		t.Fatal(err)
	}
	if d.Title != "Old" || d.Desc != "way" || len(d.Routes) != 1 {
		t.Errorf("got %q, %q, %d routes, want Old, way, 1", d.Title, d.Desc, len(d.Routes))
	}
}

func TestEncodings(t *testing.T) {
	t.Parallel()
	text := wrap(`<wpt lat="56" lon="-8"><name>Càrn Mòr</name></wpt>`)
	latin, err := charmap.Windows1252.NewEncoder().String(strings.Replace(text, "UTF-8", "windows-1252", 1))
	if err != nil {
		t.Fatal(err)
	}
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(strings.Replace(text, "UTF-8", "UTF-16", 1))
	if err != nil {
		t.Fatal(err)
	}
	for name, raw := range map[string]string{"mark": "\xEF\xBB\xBF" + text, "plain": text, "latin": latin, "wide": wide} {
		d, err := Read(strings.NewReader(raw))
		if err != nil || len(d.Marks) != 1 || d.Marks[0].Name != "Càrn Mòr" {
			t.Errorf("%s: %+v, %v, want one mark named Càrn Mòr", name, d, err)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	good := wrap(`<trk><trkseg><trkpt lat="56" lon="-8"/><trkpt lat="56.1" lon="-8"/></trkseg></trk>`)
	bomb := `<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><gpx version="1.1"><wpt lat="1" lon="1"><name>&b;</name></wpt></gpx>`
	for _, c := range []struct {
		name, text string
		want       error
	}{
		{"nothing", "", ErrNotGPX},
		{"a letter", "Dear Sir,", ErrNotGPX},
		{"another XML", "<html><body/></html>", ErrNotGPX},
		{"cut off in an element", good[:len(good)-30], ErrCutOff},
		{"cut off in a tag", good[:len(good)-60], ErrCutOff},
		{"entities", bomb, ErrUnsafe},
		{"an entity nobody declared", wrap(`<wpt lat="1" lon="1"><name>&b;</name></wpt>`), ErrUnsafe},
		{"tags crossed", wrap(`<rte><name></rte></name>`), ErrBroken},
		{"nested deep", wrap(strings.Repeat("<extensions>", 200) + strings.Repeat("</extensions>", 200)), ErrBroken},
		{"bytes that are no UTF-8", strings.Replace(good, "<trk>", "<trk><name>C\xe0rn</name>", 1), ErrEncoding},
		{"an encoding that does not exist", strings.Replace(good, "UTF-8", "klingon-7", 1), ErrEncoding},
	} {
		if _, err := Read(strings.NewReader(c.text)); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
	for _, place := range []string{`lat="999" lon="1"`, `lat="1"`, `lon="1"`, `lat="NaN" lon="1"`, `lat="1" lon="Inf"`, `lat="1" lon="181"`, `lat="" lon=""`} {
		_, err := Read(strings.NewReader(wrap(`<wpt lat="1" lon="1"/><wpt ` + place + `/>`)))
		var bad *BadPoint
		if !errors.As(err, &bad) || bad.N != 2 {
			t.Errorf("%s: %v, want a *BadPoint of point 2", place, err)
		}
	}
}

// Half a million points are refused while they are counted, before the
// library would take a gigabyte for them.
func TestTooManyPoints(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	for range 500_000 {
		b.WriteString(`<trkpt lat="56" lon="-8"/>`)
	}
	_, err := Read(strings.NewReader(wrap(`<trk><trkseg>` + b.String() + `</trkseg></trk>`)))
	if !errors.Is(err, ErrTooLarge) {
		t.Errorf("got %v, want %v", err, ErrTooLarge)
	}
}

func TestManyPointsAreRead(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes a second or two")
	}
	var b strings.Builder
	const n = 100_000
	for i := range n {
		fmt.Fprintf(&b, `<trkpt lat="%.6f" lon="-8"/>`, 56+float64(i)/1e6)
	}
	d, err := Read(strings.NewReader(wrap(`<trk><trkseg>` + b.String() + `</trkseg></trk>`)))
	if err != nil || len(d.Tracks) != 1 || len(d.Tracks[0].Points) != n {
		t.Fatalf("%v, want a track of %d points", err, n)
	}
}

// Counts of files made by others: see facts.tsv in the folder, and the test
// files of gpxpy and gpxgo that it describes.
func TestReferenceFiles(t *testing.T) {
	t.Parallel()
	dir := os.Getenv(referenceEnv)
	if dir == "" {
		t.Skip("the folder of reference files is not here")
	}
	f, err := os.Open(filepath.Join(dir, "gpx", "facts.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	table := csv.NewReader(f)
	table.Comma, table.FieldsPerRecord = '\t', -1
	rows, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		raw, err := os.ReadFile(filepath.Join(dir, "gpx", row[0]))
		if err != nil {
			t.Fatal(err)
		}
		d, err := Read(bytes.NewReader(raw))
		if err != nil {
			t.Errorf("%s: %v", row[0], err)
			continue
		}
		got := []int{len(d.Marks), len(d.Routes), sum(d.Routes), len(d.Tracks), sum(d.Tracks)}
		for i, column := range []int{2, 3, 4, 6, 7} {
			if want, _ := strconv.Atoi(row[column]); got[i] != want {
				t.Errorf("%s: %s = %d, want %d", row[0], rows[0][column], got[i], want)
			}
		}
	}
}

func sum(list []Route) int {
	n := 0
	for _, r := range list {
		n += len(r.Points)
	}
	return n
}

// Whatever comes in, Read does not panic, and what it takes can be written
// and read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(wrap(`<wpt lat="56" lon="-8"><ele>1,5</ele><name>x</name></wpt>`)))
	f.Add([]byte(wrap(`<rte><rtept lat="1" lon="2"/></rte><trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk>`)))
	f.Add([]byte(`<gpx version="1.0"><name>a</name></gpx>`))
	f.Add([]byte("\xff\xfe<\x00g\x00p\x00x\x00"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		d, err := Read(bytes.NewReader(raw))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := Write(&b, d, Options{}); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		again, err := Read(&b)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, b.String())
		}
		if len(again.Marks) != len(d.Marks) || sum(again.Routes) != sum(d.Routes) || sum(again.Tracks) != sum(d.Tracks) {
			t.Fatalf("points were lost: %d %d %d of %d %d %d", len(again.Marks), sum(again.Routes), sum(again.Tracks),
				len(d.Marks), sum(d.Routes), sum(d.Tracks))
		}
	})
}
