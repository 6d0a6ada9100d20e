package demo_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"math"
	"os"
	"slices"
	"sync"
	"testing"
	"time"

	"legwright/assets/demo"
)

// picture decodes one of the embedded pictures once for all tests.
var sheetPic, scanPic = sync.OnceValue(func() image.Image { return mustDecode(demo.Sheet()) }),
	sync.OnceValue(func() image.Image { return mustDecode(demo.Scan()) })

func mustDecode(data []byte) image.Image {
	pic, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		panic(err)
	}
	return pic
}

func TestPicturesHaveTheirSizeAndWeight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, format string
		data         []byte
		truth        demo.Truth
		maxBytes     int
	}{
		{demo.SheetName, "png", demo.Sheet(), demo.SheetTruth(), 5 << 20},
		{demo.ScanName, "jpeg", demo.Scan(), demo.ScanTruth(), 8 << 20},
	} {
		cfg, format, err := image.DecodeConfig(bytes.NewReader(c.data))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if format != c.format || cfg.Width != c.truth.Width || cfg.Height != c.truth.Height {
			t.Errorf("%s: got %s %d×%d, want %s %d×%d", c.name, format, cfg.Width, cfg.Height, c.format, c.truth.Width, c.truth.Height)
		}
		if len(c.data) > c.maxBytes {
			t.Errorf("%s: got %d bytes, want at most %d", c.name, len(c.data), c.maxBytes)
		}
		if mp := cfg.Width * cfg.Height; mp < 23e6 || mp > 25e6 {
			t.Errorf("%s: got %d pixels, want about 24 million", c.name, mp)
		}
	}
}

// TestResolutionIsWritten reads the pHYs chunk (PNG specification 11.3.4.3) and the JFIF
// header (ITU-T T.871) by hand.
func TestResolutionIsWritten(t *testing.T) {
	t.Parallel()
	i := bytes.Index(demo.Sheet(), []byte("pHYs"))
	if i < 0 || i > 100 {
		t.Fatalf("pHYs of the sheet: got offset %d, want it before the picture", i)
	}
	got := binary.BigEndian.Uint32(demo.Sheet()[i+4:])
	if want := uint32(10000); got != want { // 0.1 mm a pixel
		t.Errorf("pHYs: got %d pixels a metre, want %d", got, want)
	}
	head := demo.Scan()[:20]
	if !bytes.Equal(head[:11], []byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00")) || head[13] != 1 {
		t.Fatalf("JFIF header: got % x", head)
	}
	if x, y := binary.BigEndian.Uint16(head[14:]), binary.BigEndian.Uint16(head[16:]); x != 250 || y != 250 {
		t.Errorf("JFIF density: got %d×%d dpi, want 250×250", x, y)
	}
}

func TestTruthFileAgreesWithTheAccessors(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(demo.TruthName)
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Sheet, Scan demo.Truth }
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	if file.Sheet != demo.SheetTruth() {
		t.Errorf("sheet: got %+v, want %+v", file.Sheet, demo.SheetTruth())
	}
	want := demo.ScanTruth()
	for i, v := range file.Scan.Matrix {
		if math.Abs(v-want.Matrix[i]) > 1e-9 { // sine and cosine may differ in the last bit between processors
			t.Errorf("scan matrix[%d]: got %v, want %v", i, v, want.Matrix[i])
		}
	}
	file.Scan.Matrix = want.Matrix
	if file.Scan != want {
		t.Errorf("scan: got %+v, want %+v", file.Scan, want)
	}
}

func TestScanIsASimilarity(t *testing.T) {
	t.Parallel()
	m := demo.ScanTruth().Matrix
	if m[0] != -m[4] || m[1] != m[3] {
		t.Errorf("matrix: got %v, want [a b c b −a f]", m)
	}
	if got, want := math.Hypot(m[0], m[1]), 2.54; math.Abs(got-want) > 1e-12 {
		t.Errorf("metres per pixel: got %v, want %v", got, want)
	}
	if got, want := math.Atan2(m[1], m[0])*180/math.Pi, 1.1; math.Abs(got-want) > 1e-12 {
		t.Errorf("turn: got %v°, want %v°", got, want)
	}
	for _, p := range [][2]float64{{0, 0}, {6016, 0}, {1234.5, 4088}, {3000, 2000}} {
		e, n := demo.ScanTruth().Grid(p[0], p[1])
		if c, r := demo.Intersection(e, n); math.Hypot(c-p[0], r-p[1]) > 1e-6 {
			t.Errorf("there and back from %v: got %v, %v", p, c, r)
		}
	}
}

// TestGridLinesLieWhereTheTruthSays measures the printed lines beside the intersections by
// the centre of their ink, on both pictures.
func TestGridLinesLieWhereTheTruthSays(t *testing.T) {
	t.Parallel()
	intersections := append([]demo.GridPoint{
		{E: 22000, N: 744000}, {E: 27000, N: 741000}, {E: 31000, N: 742000}, {E: 26000, N: 747000}, {E: 33000, N: 743000},
	}, sliceOf(demo.CornerIntersections())...)
	for _, c := range []struct {
		name  string
		pic   image.Image
		truth demo.Truth
		tolPx float64
	}{
		{"sheet", sheetPic(), demo.SheetTruth(), 0.05},
		{"scan", scanPic(), demo.ScanTruth(), 0.25},
	} {
		for _, g := range intersections {
			t.Run(fmt.Sprintf("%s %.0f %.0f", c.name, g.E, g.N), func(t *testing.T) {
				along, up := missOfLines(t, c.pic, c.truth, g)
				if math.Abs(along) > c.tolPx || math.Abs(up) > c.tolPx {
					t.Errorf("lines off the truth: got %.3f px across, %.3f px down, want at most %v", along, up, c.tolPx)
				}
			})
		}
	}
}

func sliceOf(a [4]demo.GridPoint) []demo.GridPoint { return a[:] }

// missOfLines returns how far the two lines through g lie right of and below their true place in pixels.
func missOfLines(t *testing.T, pic image.Image, truth demo.Truth, g demo.GridPoint) (right, below float64) {
	t.Helper()
	col, row := truth.Pixel(g.E, g.N)
	m := truth.Matrix
	var across, down []float64
	for d := 16; d < 56; d++ {
		for _, sign := range []int{-1, 1} {
			y := int(row) + sign*d
			c := (g.E - m[2] - m[1]*(float64(y)+0.5)) / m[0]
			across = append(across, inkCentre(t, c, func(x int) float64 { return dark(pic, x, y) })-c)
			x := int(col) + sign*d
			r := (g.N - m[5] - m[3]*(float64(x)+0.5)) / m[4]
			down = append(down, inkCentre(t, r, func(y int) float64 { return dark(pic, x, y) })-r)
		}
	}
	return median(across), median(down)
}

// median shrugs off the few places where another line runs by.
func median(v []float64) float64 {
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// inkCentre returns the centre of the dark pixels within 5 pixels of at; there must be a line.
func inkCentre(t *testing.T, at float64, dark func(i int) float64) float64 {
	t.Helper()
	lo := int(math.Floor(at)) - 5
	ground, most := math.Inf(1), 0.0
	for i := lo; i <= lo+10; i++ {
		ground, most = math.Min(ground, dark(i)), math.Max(most, dark(i))
	}
	if most-ground < 25 {
		t.Fatalf("no line near %.1f: contrast %.0f of 255", at, most-ground)
	}
	var sum, weight float64
	for i := lo; i <= lo+10; i++ {
		w := math.Max(dark(i)-ground-12, 0)
		sum += w * (float64(i) + 0.5)
		weight += w
	}
	return sum / weight
}

func dark(pic image.Image, x, y int) float64 {
	r, g, b, _ := pic.At(x, y).RGBA()
	return 255 - float64(r+g+b)/3/257
}

func TestPlanHangsTogether(t *testing.T) {
	t.Parallel()
	marks := map[string]demo.Mark{}
	for _, m := range demo.Marks() {
		if _, twice := marks[m.Name]; twice || m.Name == "" {
			t.Errorf("mark %q: want names that are not empty and stand once", m.Name)
		}
		marks[m.Name] = m
		if m.E <= demo.West || m.E >= demo.East || m.N <= demo.South || m.N >= demo.North {
			t.Errorf("%s: got %v %v, want inside the neat line", m.Name, m.E, m.N)
		}
		if want := fmt.Sprintf("NL %05.0f %05.0f", m.E, m.N-700000); m.Reference != want {
			t.Errorf("%s: got reference %s, want %s", m.Name, m.Reference, want)
		}
	}
	if len(demo.Marks()) != 8 || len(demo.Legs()) != 6 || len(demo.Sights()) != 3 {
		t.Errorf("got %d marks, %d legs, %d sights, want 8, 6, 3", len(demo.Marks()), len(demo.Legs()), len(demo.Sights()))
	}
	last := ""
	for _, l := range demo.Legs() {
		a, okA := marks[l.From]
		b, okB := marks[l.To]
		if !okA || !okB {
			t.Errorf("leg %s to %s: want marks that exist", l.From, l.To)
			continue
		}
		if d := math.Hypot(a.E-b.E, a.N-b.N); d < 300 || d > 1500 {
			t.Errorf("leg %s to %s: got %.0f m, want 300 to 1500", l.From, l.To, d)
		}
		if last != "" && l.From != last {
			t.Errorf("leg from %s: want it to start where the last ended, at %s", l.From, last)
		}
		last = l.To
	}
	for _, s := range demo.Sights() {
		if marks[s.From].Name == "" || marks[s.To].Name == "" || s.From == s.To {
			t.Errorf("sight %s to %s: want two marks that exist", s.From, s.To)
		}
	}
}

// TestMarksStandOnLand looks at the clean sheet: sea and lakes have more blue than red, land has less.
func TestMarksStandOnLand(t *testing.T) {
	t.Parallel()
	for _, m := range demo.Marks() {
		col, row := demo.SheetTruth().Pixel(m.E, m.N)
		land, all := 0, 0
		for dy := -18; dy <= 18; dy++ {
			for dx := -18; dx <= 18; dx++ {
				r, g, b, _ := sheetPic().At(int(col)+dx, int(row)+dy).RGBA()
				if r+g+b < 3*200*257 {
					continue // ink
				}
				all++
				if r > b {
					land++
				}
			}
		}
		if share := float64(land) / float64(all); all < 100 || share < 0.5 {
			t.Errorf("%s: got %.0f %% of %d tones round it land, want most", m.Name, 100*share, all)
		}
	}
}

func TestDateIsASaturday(t *testing.T) {
	t.Parallel()
	d, err := time.Parse(time.DateOnly, demo.Date)
	if err != nil || d.Weekday() != time.Saturday {
		t.Errorf("date %s: got %v, %v, want a Saturday", demo.Date, d.Weekday(), err)
	}
}
