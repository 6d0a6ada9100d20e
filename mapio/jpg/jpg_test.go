package jpg

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/gen2brain/jpegn"
)

// sheet has lines, steps and noise, as a scanned map has.
func sheet(w, h int) *image.RGBA {
	r := rand.New(rand.NewPCG(5, 6))
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{uint8(200 + r.IntN(12)), uint8(210 + r.IntN(12)), uint8(180 + 40*(x/37%2)), 255}
			if x%23 < 2 || (x+2*y)%61 < 2 {
				c = color.RGBA{120, 60, 20, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	return m
}

func coded(t testing.TB, m image.Image, o jpegn.EncodeOptions) []byte {
	t.Helper()
	var b bytes.Buffer
	if o.Quality == 0 {
		o.Quality = 90
	}
	if err := jpegn.Encode(&b, m, &o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// kinds are encodings of one picture that the decoder must read alike.
func kinds() map[string]jpegn.EncodeOptions {
	return map[string]jpegn.EncodeOptions{
		"4:2:0": {Subsampling: jpegn.Subsample420}, "4:2:2": {Subsampling: jpegn.Subsample422},
		"4:4:4": {Subsampling: jpegn.Subsample444}, "own tables": {OptimizeCoding: true},
		"restarts": {RestartInterval: 3}, "fine": {Quality: 100}, "coarse": {Quality: 20},
		"passes": {Progressive: true}, "fine passes": {Progressive: true, Quality: 100, Subsampling: jpegn.Subsample444},
	}
}

func planes(m image.Image) [][]uint8 {
	switch m := m.(type) {
	case *image.Gray:
		return [][]uint8{rows(m.Pix, m.Stride, m.Rect.Dx(), m.Rect.Dy())}
	case *image.YCbCr:
		w, h := m.Rect.Dx(), m.Rect.Dy()
		cw, ch := m.COffset(w-1, 0)+1, m.COffset(0, h-1)/m.CStride+1
		return [][]uint8{rows(m.Y, m.YStride, w, h), rows(m.Cb, m.CStride, cw, ch), rows(m.Cr, m.CStride, cw, ch)}
	}
	return nil
}

func rows(pix []uint8, stride, w, h int) []uint8 {
	var out []uint8
	for y := range h {
		out = append(out, pix[y*stride:][:w]...)
	}
	return out
}

// worst is the largest difference of a sample, or -1 for unlike shapes.
func worst(a, b image.Image) int {
	p, q := planes(a), planes(b)
	if len(p) == 0 || len(p) != len(q) || a.Bounds() != b.Bounds() {
		return -1
	}
	most := 0
	for i := range p {
		if len(p[i]) != len(q[i]) {
			return -1
		}
		for k := range p[i] {
			most = max(most, int(p[i][k])-int(q[i][k]), int(q[i][k])-int(p[i][k]))
		}
	}
	return most
}

// TestAgainstStandard: every kind and odd size decodes as image/jpeg does, to
// 2 of 255 in a sample (both round their transforms, T.81 leaves that free).
func TestAgainstStandard(t *testing.T) {
	t.Parallel()
	for name, o := range kinds() {
		for _, size := range []image.Point{{1, 1}, {7, 9}, {16, 16}, {17, 33}, {250, 131}} {
			data := coded(t, sheet(size.X, size.Y), o)
			want, err := jpeg.Decode(bytes.NewReader(data))
			if err != nil {
				t.Fatal(err)
			}
			got, err := Decode(t.Context(), bytes.NewReader(data), Options{})
			if err != nil {
				t.Errorf("%s %v: %v", name, size, err)
				continue
			}
			if d := worst(got, want); d < 0 || d > 2 {
				t.Errorf("%s %v: a sample differs by %d, want at most 2", name, size, d)
			}
		}
	}
	grey := image.NewGray(image.Rect(0, 0, 61, 40))
	for i := range grey.Pix {
		grey.Pix[i] = uint8(i * 3)
	}
	data := coded(t, grey, jpegn.EncodeOptions{})
	want, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	got, err := Decode(t.Context(), bytes.NewReader(data), Options{})
	if err != nil || worst(got, want) < 0 || worst(got, want) > 2 {
		t.Errorf("grey: %v, a sample differs by %d", err, worst(got, want))
	}
}

// TestInverse compares the transform with its definition (T.81, A.3.3) in
// floating point, for all places of the last coefficient.
func TestInverse(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 9))
	z := zigzag()
	for n := range 4000 {
		var blk [64]int16
		last := n % 64
		blk[0] = int16(r.IntN(1600) - 800)
		for k := 1; k <= last; k++ {
			if r.IntN(3) == 0 || k == last {
				blk[z[k]] = int16(r.IntN(240) - 120)
			}
		}
		var got [64]uint8
		inverse(&blk, last, got[:], 8)
		for y := range 8 {
			for x := range 8 {
				want := math.Max(0, math.Min(255, definition(&blk, x, y)+128))
				if d := math.Abs(float64(got[8*y+x]) - want); d > 1 {
					t.Fatalf("block %d, last %d, (%d, %d): %d, want %.2f to within 1", n, last, x, y, got[8*y+x], want)
				}
			}
		}
	}
}

func definition(blk *[64]int16, x, y int) (sum float64) {
	half := func(k int) float64 {
		if k == 0 {
			return math.Sqrt2 / 4
		}
		return 0.5
	}
	for v := range 8 {
		for u := range 8 {
			sum += half(u) * half(v) * float64(blk[8*v+u]) *
				math.Cos(float64((2*x+1)*u)*math.Pi/16) * math.Cos(float64((2*y+1)*v)*math.Pi/16)
		}
	}
	return sum
}

// TestZigzag quotes places of T.81, figure A.6.
func TestZigzag(t *testing.T) {
	t.Parallel()
	z := zigzag()
	for k, want := range map[int]uint8{0: 0, 1: 1, 2: 8, 3: 16, 4: 9, 5: 2, 9: 24, 27: 6, 28: 7, 29: 14, 35: 56, 36: 57, 62: 62, 63: 63} {
		if z[k] != want {
			t.Errorf("coefficient %d at %d, want %d", k, z[k], want)
		}
	}
	for k := range 10 {
		if z[k]%8 > 3 || z[k]/8 > 3 {
			t.Errorf("coefficient %d at %d, outside the upper left 4 × 4", k, z[k])
		}
	}
}

// TestSmall: each pixel of the small picture is the mean of its square of the
// whole one. At level 3 it comes from the DC coefficient (T.81, A.3.3), so it
// may differ by what clipping and rounding of 64 pixels do: 2 of 255.
// Progressive pictures have none.
func TestSmall(t *testing.T) {
	t.Parallel()
	for name, o := range kinds() {
		data := coded(t, sheet(256, 128), o)
		for level := 1; level <= 3; level++ {
			var small image.Image
			calls := 0
			whole, err := Decode(t.Context(), bytes.NewReader(data), Options{Level: level, Small: func(m image.Image) { small = m; calls++ }})
			if o.Progressive {
				_, only := Decode(t.Context(), bytes.NewReader(data), Options{SmallOnly: true})
				if err != nil || calls != 0 || !errors.Is(only, ErrUnsupported) {
					t.Errorf("%s: %v, %d small pictures, alone %v, want none", name, err, calls, only)
				}
				continue
			}
			if err != nil || calls != 1 {
				t.Fatalf("%s: %v, %d small pictures", name, err, calls)
			}
			tolerance := 1
			if level == 3 {
				tolerance = 2
			}
			if d := worst(small, boxes(whole, 1<<level)); d < 0 || d > tolerance {
				t.Errorf("%s level %d: a sample differs by %d from its square's mean, want at most %d", name, level, d, tolerance)
			}
			if level == 3 {
				only, err := Decode(t.Context(), bytes.NewReader(data), Options{SmallOnly: true})
				if err != nil || worst(only, small) != 0 {
					t.Errorf("%s alone: %v, differs by %d", name, err, worst(only, small))
				}
			}
		}
	}
}

// boxes shrinks by a whole factor, slowly.
func boxes(m image.Image, f int) image.Image {
	shrink := func(pix []uint8, stride, w, h int) []uint8 {
		out := make([]uint8, w/f*(h/f))
		for y := range h / f {
			for x := range w / f {
				sum := f * f / 2
				for r := range f * f {
					sum += int(pix[(f*y+r/f)*stride+f*x+r%f])
				}
				out[y*(w/f)+x] = uint8(sum / (f * f))
			}
		}
		return out
	}
	c := m.(*image.YCbCr)
	w, h := c.Rect.Dx(), c.Rect.Dy()
	cw, ch := c.COffset(w-1, 0)+1, c.COffset(0, h-1)/c.CStride+1
	return &image.YCbCr{
		Y: shrink(c.Y, c.YStride, w, h), Cb: shrink(c.Cb, c.CStride, cw, ch), Cr: shrink(c.Cr, c.CStride, cw, ch),
		YStride: w / f, CStride: cw / f, SubsampleRatio: c.SubsampleRatio, Rect: image.Rect(0, 0, w/f, h/f),
	}
}

// TestSmallSize: sides are rounded up at every size.
func TestSmallSize(t *testing.T) {
	t.Parallel()
	for name, o := range kinds() {
		for w := 1; w < 40; w += 3 {
			for level := 1; level <= 3; level++ {
				data := coded(t, sheet(w, 41-w), o)
				_, err := Decode(t.Context(), bytes.NewReader(data), Options{Level: level, Small: func(m image.Image) {
					want := image.Rect(0, 0, up(w, 1<<level), up(41-w, 1<<level))
					if m.Bounds() != want {
						t.Errorf("%s %d × %d level %d: %v, want %v", name, w, 41-w, level, m.Bounds(), want)
					}
					m.At(want.Max.X-1, want.Max.Y-1).RGBA()
				}})
				if err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
		}
	}
}

// TestCut: a picture that is cut off anywhere is an error, and none is given
// out, not even a small one. One that lacks its end mark alone is complete,
// unless it is progressive.
func TestCut(t *testing.T) {
	t.Parallel()
	for name, o := range kinds() {
		data := coded(t, sheet(200, 160), o)
		for _, part := range []int{10, 60, 85, 99} {
			m, err := Decode(t.Context(), bytes.NewReader(data[:len(data)*part/100]), Options{
				Level: 2, Small: func(image.Image) { t.Errorf("%s at %d %%: a small picture", name, part) },
			})
			if m != nil || !errors.Is(err, io.ErrUnexpectedEOF) {
				t.Errorf("%s at %d %%: picture %v, %v, want an unexpected end", name, part, m != nil, err)
			}
		}
		want, err := Decode(t.Context(), bytes.NewReader(data), Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := Decode(t.Context(), bytes.NewReader(data[:len(data)-2]), Options{})
		if o.Progressive != errors.Is(err, io.ErrUnexpectedEOF) || !o.Progressive && worst(got, want) != 0 {
			t.Errorf("%s without its end mark: %v", name, err)
		}
	}
}

// TestContradictions: a slipped byte, data left over, and a scan that never
// comes are damage.
func TestContradictions(t *testing.T) {
	t.Parallel()
	for name, o := range kinds() {
		data := coded(t, sheet(200, 160), o)
		spare := append(append(bytes.Clone(data[:len(data)-2]), 0x12, 0x34, 0x56), data[len(data)-2:]...)
		start := bytes.Index(data, []byte{0xff, 0xda})
		bare := append(bytes.Clone(data[:start]), 0xff, 0xd9)
		for what, bad := range map[string][]byte{"spare data": spare, "no scan": bare} {
			if m, err := Decode(t.Context(), bytes.NewReader(bad), Options{}); m != nil || !errors.Is(err, ErrDamaged) {
				t.Errorf("%s, %s: picture %v, %v, want ErrDamaged", name, what, m != nil, err)
			}
			if o.Progressive {
				continue // its passes are not walked
			}
			if err := Check(t.Context(), bytes.NewReader(bad)); !errors.Is(err, ErrDamaged) {
				t.Errorf("%s, %s: checked with %v, want ErrDamaged", name, what, err)
			}
		}
	}
}

// stopping ends its context in the midst.
type stopping struct {
	r    io.Reader
	stop func()
	left int
}

func (s *stopping) Read(p []byte) (int, error) {
	if s.left--; s.left == 0 {
		s.stop()
	}
	return s.r.Read(p[:min(len(p), 512)])
}

type driveError struct{}

func (driveError) Error() string { return "the drive is gone" }

func TestEndsEarly(t *testing.T) {
	t.Parallel()
	for _, progressive := range []bool{false, true} {
		data := coded(t, sheet(600, 400), jpegn.EncodeOptions{Progressive: progressive})
		ctx, cancel := context.WithCancel(t.Context())
		if _, err := Decode(ctx, &stopping{bytes.NewReader(data), cancel, 20}, Options{}); !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled: %v, want context.Canceled", err)
		}
		r := io.MultiReader(bytes.NewReader(data[:len(data)/2]), failing{})
		if _, err := Decode(t.Context(), r, Options{}); !errors.Is(err, driveError{}) {
			t.Errorf("drive gone: %v, want its error", err)
		}
	}
	for name, data := range map[string][]byte{"nothing": nil, "start only": {0xff, 0xd8}, "end only": {0xff, 0xd8, 0xff, 0xd9}} {
		if _, err := Decode(t.Context(), bytes.NewReader(data), Options{}); err == nil {
			t.Errorf("%s: decoded, want an error", name)
		}
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, driveError{} }

// claims is the most pixels that anything in the data that may be a frame
// header says there are.
func claims(data []byte) (most int) {
	for i := 0; i+9 <= len(data); i++ {
		if data[i] == 0xff && data[i+1] >= 0xc0 && data[i+1] <= 0xcf {
			most = max(most, (int(data[i+5])<<8|int(data[i+6]))*(int(data[i+7])<<8|int(data[i+8])))
		}
	}
	return most
}

// FuzzDecode: whatever the bytes, no panic, and a picture of the frame's size
// or an error of a promised kind; a sound one that is reported row by row is the
// same, and all of it is reported.
func FuzzDecode(f *testing.F) {
	for _, o := range kinds() {
		f.Add(coded(f, sheet(19, 13), o))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if claims(data) > 1<<20 {
			return // within the limits, but it would only slow the search
		}
		m, err := Decode(t.Context(), bytes.NewReader(data), Options{Level: 1 + len(data)%3})
		if errors.Is(err, ErrPanicked) {
			t.Errorf("broke down: %v", err)
		}
		if (err == nil) != (m != nil) {
			t.Errorf("picture %v, error %v", m, err)
		}
		if checked := Check(t.Context(), bytes.NewReader(data)); err == nil && checked != nil {
			t.Errorf("decoded without an error, checked with %v", checked)
		}
		told := 0
		n, err := Decode(t.Context(), bytes.NewReader(data), Options{Begin: func(image.Image) {}, Pixels: func(rows int) { told = rows }})
		if errors.Is(err, ErrPanicked) {
			t.Errorf("broke down while its rows were reported: %v", err)
		}
		if err == nil && (told != n.Bounds().Dy() || m == nil || worst(n, m) != 0) {
			t.Errorf("told of %d rows of %v, differs by %d", told, n.Bounds(), worst(n, m))
		}
	})
}
