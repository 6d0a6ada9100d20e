package housing

import (
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"legwright/app/units"
)

// testInk is a set of colours that differ enough to be told apart by a pixel.
func testInk() Ink {
	c := func(h uint32) color.NRGBA {
		return color.NRGBA{R: uint8(h >> 16), G: uint8(h >> 8), B: uint8(h), A: 0xff}
	}
	return Ink{
		Rim: c(0x1b252c), Ring: c(0x34434e), Mark: c(0xf6f3eb),
		Plate: c(0xfaf8f2), Line: c(0xb9c0c0), Letter: c(0x34434e),
		Needle: c(0x7a3b6f), Tail: c(0x34434e), Index: c(0xd9b7d3),
	}
}

func newFace(t testing.TB, px int) *Face {
	t.Helper()
	f, err := New(px, testInk())
	if err != nil {
		t.Fatalf("new face of %d: %v", px, err)
	}
	return f
}

// at reads the pixel at radius r (fraction) and angle clockwise from the head.
func at(f *Face, im *image.RGBA, r, deg float64) color.NRGBA {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	middle := float64(f.Side()) / 2
	c := im.RGBAAt(int(middle+r*f.pen.Radius()*sin), int(middle-r*f.pen.Radius()*cos))
	return color.NRGBA(c) // where it is opaque the two are the same
}

// near reports whether two colours are within 40 of 255 in each channel: close
// enough for a pixel that a shape covers for the most part.
func near(a, b color.NRGBA) bool {
	d := func(x, y uint8) bool { return math.Abs(float64(x)-float64(y)) <= 40 }
	return d(a.R, b.R) && d(a.G, b.G) && d(a.B, b.B)
}

// TestWhereThingsStand looks for the needle, the gate and the graduations where
// the rule of the package comment puts them: north at −S from the index, the
// needle at −S + NeedleOff = −M.
func TestWhereThingsStand(t *testing.T) {
	t.Parallel()
	ink := testInk()
	cases := []struct {
		name             string
		set, magnetic    float64 // degrees; set is what stands at the index
		gate             float64
		needleAt, gateAt float64 // degrees clockwise from the index
	}{
		{"plain housing, leg to the east", 90, 90, 0, -90, -90},
		{"plain housing, leg to the north", 0, 0, 0, 0, 0},
		{"plain housing, leg 243 magnetic", 243, 243, 0, -243, -243},
		{"adjusted 12° east, grid 057, magnetic 045", 57, 45, 12, -45, -45},
		{"adjusted 3° west, grid 200, magnetic 203", 200, 203, -3, -203, -203},
		{"plain housing set to grid by mistake, GMA 12° east", 57, 45, 0, -45, -57},
	}
	f := newFace(t, 450)
	for _, c := range cases {
		im := f.Draw(State{
			At: units.Degrees(c.set), NeedleOff: units.Degrees(c.set - c.magnetic), GateOff: units.Degrees(c.gate),
			Needle: true, Gate: true,
		})
		if got := at(f, im, 0.2, c.needleAt); !near(got, ink.Needle) {
			t.Errorf("%s: needle at %v°: got %v, want %v", c.name, c.needleAt, got, ink.Needle)
		}
		if got := at(f, im, 0.2, c.needleAt+180); !near(got, ink.Tail) {
			t.Errorf("%s: tail at %v°: got %v, want %v", c.name, c.needleAt+180, got, ink.Tail)
		}
		const along, across = 0.4, gateHalf + 0.0245 // the middle of a post
		half := math.Atan2(across, along) * 180 / math.Pi
		for _, side := range []float64{-half, half} {
			if got := at(f, im, math.Hypot(along, across), c.gateAt+side); !near(got, ink.Letter) {
				t.Errorf("%s: gate post at %v°: got %v, want %v", c.name, c.gateAt+side, got, ink.Letter)
			}
		}
	}
}

// TestTurnedFace draws the same state with the index elsewhere than at the head of the
// picture: what stood at an angle from the head stands at it from the index.
func TestTurnedFace(t *testing.T) {
	t.Parallel()
	ink := testInk()
	f := newFace(t, 450)
	for _, head := range []float64{0, 40, 133, 180, 271.5} {
		im := f.Draw(State{Head: units.Degrees(head), At: units.Degrees(57), NeedleOff: units.Degrees(12), Needle: true})
		if got := at(f, im, 0.2, head-45); !near(got, ink.Needle) {
			t.Errorf("index at %v°: got %v for the needle, want %v", head, got, ink.Needle)
		}
		if got := at(f, im, 0.965, head); !near(got, ink.Index) {
			t.Errorf("index at %v°: got %v there, want %v", head, got, ink.Index)
		}
	}
}

// TestTranslucentPlate looks through the floor of the housing, and through nothing else.
func TestTranslucentPlate(t *testing.T) {
	t.Parallel()
	ink := testInk()
	ink.Plate.A = 0x60
	f, err := New(450, ink)
	if err != nil {
		t.Fatal(err)
	}
	im := f.Draw(State{At: units.Degrees(57), Needle: true})
	for _, c := range []struct {
		name   string
		r, deg float64
		want   uint8
	}{{"floor", 0.4, 170, 0x60}, {"ring", 0.73, 91, 0xff}, {"needle", 0.2, -57, 0xff}, {"outside", 1.2, 45, 0}} {
		if got := at(f, im, c.r, c.deg).A; got != c.want {
			t.Errorf("%s: got alpha %#x, want %#x", c.name, got, c.want)
		}
	}
}

// TestGraduations counts the light marks around the ring: one pixel in each
// fine graduation and the ring's tone between two of them.
func TestGraduations(t *testing.T) {
	t.Parallel()
	cases := []struct {
		circle units.Circle
		want   int // graduations to the turn
	}{
		{units.WholeDegrees, 180}, {units.HalfDegrees, 180}, {units.Mils6400, 128}, {units.Gon400, 200},
	}
	f := newFace(t, 900)
	for _, c := range cases {
		im := f.Draw(State{At: units.Degrees(31), Circle: c.circle})
		step := 360 / float64(c.want)
		for i := range c.want {
			deg := -31 + float64(i)*step
			if math.Abs(math.Remainder(deg, 360)) < 4 {
				continue // below the index
			}
			if got := at(f, im, 0.925, deg); !near(got, testInk().Mark) {
				t.Errorf("%v, graduation %d: got %v, want a mark", c.circle, i, got)
			}
			if got := at(f, im, 0.925, deg+step/2); !near(got, testInk().Ring) {
				t.Errorf("%v, after graduation %d: got %v, want the ring", c.circle, i, got)
			}
		}
	}
}

func TestFiguresOnTheRing(t *testing.T) {
	t.Parallel()
	cases := []struct {
		circle      units.Circle
		first, last string
		count       int
	}{
		{units.WholeDegrees, "0", "340", 18},
		{units.Mils6400, "0", "60", 16},
		{units.Gon400, "0", "380", 20},
	}
	for _, c := range cases {
		s := scaleOf(c.circle)
		last := s.text(s.fine - s.figure)
		if got := s.fine / s.figure; s.text(0) != c.first || last != c.last || got != c.count {
			t.Errorf("%v: got %q to %q, %d figures; want %q to %q, %d", c.circle, s.text(0), last, got, c.first, c.last, c.count)
		}
	}
}

// TestNoDirectionIsInvented draws states that are not numbers or have no
// magnetic north: the needle's colour may not appear.
func TestNoDirectionIsInvented(t *testing.T) {
	t.Parallel()
	nan, inf := units.Angle(math.NaN()), units.Angle(math.Inf(1))
	cases := map[string]State{
		"no needle":    {At: units.Degrees(57)},
		"no bearing":   {At: nan, Needle: true},
		"no offset":    {At: units.Degrees(57), NeedleOff: inf, Needle: true},
		"gate unknown": {At: units.Degrees(57), GateOff: nan, Gate: true},
	}
	f := newFace(t, 300)
	for name, s := range cases {
		if got := count(f.Draw(s), testInk().Needle); got != 0 {
			t.Errorf("%s: got %d pixels of a needle, want none", name, got)
		}
	}
	if got := count(f.Draw(State{Needle: true}), testInk().Needle); got < 200 {
		t.Errorf("with a needle: got %d pixels of it, want 200 or more", got)
	}
}

func count(im *image.RGBA, c color.NRGBA) (n int) {
	for i := 0; i < len(im.Pix); i += 4 {
		if im.Pix[i] == c.R && im.Pix[i+1] == c.G && im.Pix[i+2] == c.B && im.Pix[i+3] == 0xff {
			n++
		}
	}
	return n
}

func TestFaceSizes(t *testing.T) {
	t.Parallel()
	for _, px := range []int{-1, 0, Smallest - 1, Largest + 1} {
		if _, err := New(px, testInk()); !errors.Is(err, ErrSize) {
			t.Errorf("%d pixels: got error %v, want ErrSize", px, err)
		}
	}
	for _, px := range []int{Smallest, 97, 300, 451} { // every state stays within the picture
		f := newFace(t, px)
		for deg := 0.0; deg < 360; deg += 7.3 {
			f.Draw(State{At: units.Degrees(deg), Circle: units.Gon400, Needle: true, Gate: true})
		}
	}
}

// TestGolden compares faces with stored pictures, with room for one thirty-
// second of the range in a pixel and for 0.2 % of pixels beyond that. Run with
// LEGWRIGHT_UPDATE_GOLDENS=1 to store them anew, and look at them.
func TestGolden(t *testing.T) {
	t.Parallel()
	cases := map[string]State{
		"degrees_057":      {At: units.Degrees(57), Needle: true, Gate: true},
		"adjusted_231_12e": {At: units.Degrees(231.5), NeedleOff: units.Degrees(12), GateOff: units.Degrees(12), Needle: true, Gate: true},
		"mils_0980":        {At: units.Degrees(980 * 360 / 6400.0), Circle: units.Mils6400, Needle: true, Gate: true},
		"gon_123":          {At: units.Degrees(123 * 0.9), Circle: units.Gon400, Needle: true, Gate: true},
		"empty":            {Gate: true},
		"turned_120":       {Head: units.Degrees(120), At: units.Degrees(57), NeedleOff: units.Degrees(12), Needle: true, Gate: true},
	}
	f := newFace(t, 240)
	for name, s := range cases {
		compare(t, name, f.Draw(s))
	}
}

func compare(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if os.Getenv("LEGWRIGHT_UPDATE_GOLDENS") != "" {
		store(t, path, got)
		return
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatalf("golden picture: %v", err)
	}
	defer file.Close()
	want, err := png.Decode(file)
	if err != nil || want.Bounds() != got.Bounds() {
		t.Fatalf("golden picture %s: %v, bounds %v, want %v", path, err, want.Bounds(), got.Bounds())
	}
	off := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			if differs(got.At(x, y), want.At(x, y)) {
				off++
			}
		}
	}
	if most := got.Rect.Dx() * got.Rect.Dy() / 500; off > most {
		failed := filepath.Join(os.TempDir(), "housing_"+name+".png")
		store(t, failed, got)
		t.Errorf("%s: got %d pixels that differ, want at most %d; see %s", name, off, most, failed)
	}
}

func differs(a, b color.Color) bool {
	r0, g0, b0, a0 := a.RGBA()
	r1, g1, b1, a1 := b.RGBA()
	far := func(p, q uint32) bool { return math.Abs(float64(p)-float64(q)) > 65535/32 }
	return far(r0, r1) || far(g0, g1) || far(b0, b1) || far(a0, a1)
}

func store(t *testing.T, path string, im image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, im); err != nil {
		t.Fatal(err)
	}
}
