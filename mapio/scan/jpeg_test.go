package scan

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"testing"

	"github.com/gen2brain/jpegn"

	"legwright/mapio/jpg"
)

func stdJPEG(data []byte) (image.Image, error) { return jpeg.Decode(bytes.NewReader(data)) }

// TestDecodersAgree compares the fast decoder with the standard library's:
// the planes may differ by the rounding of the inverse transform.
func TestDecodersAgree(t *testing.T) {
	t.Parallel()
	grey := greyNoise(133, 71)
	for _, c := range []struct {
		name string
		data []byte
	}{
		{"4:2:0", jpegOf(t, noise(133, 71))},
		{"grey", jpegOf(t, grey)},
		{"progressive", progressiveOf(t, noise(133, 71))},
		{"restarts", restartsOf(t, noise(133, 71))},
		{"4:4:4", encoded(t, func(b *bytes.Buffer) error {
			return jpegn.Encode(b, noise(133, 71), &jpegn.EncodeOptions{Quality: 90, Subsampling: jpegn.Subsample444})
		})},
		{"4:2:2", encoded(t, func(b *bytes.Buffer) error {
			return jpegn.Encode(b, noise(133, 71), &jpegn.EncodeOptions{Quality: 90, Subsampling: jpegn.Subsample422})
		})},
		{"four inks", testFile(t, "address_cmyk.jpg")},
	} {
		want, err := stdJPEG(c.data)
		if err != nil {
			t.Fatalf("%s: image/jpeg: %v", c.name, err)
		}
		got, err := jpegn.Decode(bytes.NewReader(c.data))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if got.Bounds() != want.Bounds() {
			t.Fatalf("%s: bounds %v, want %v", c.name, got.Bounds(), want.Bounds())
		}
		worst := 0
		for y := range got.Bounds().Dy() {
			for x := range got.Bounds().Dx() {
				worst = max(worst, apart(got.At(x, y), want.At(x, y)))
			}
		}
		t.Logf("%s: a channel differs by %d", c.name, worst)
		if worst > 5 {
			t.Errorf("%s: a channel differs by %d, want at most 5", c.name, worst)
		}
	}
}

// TestSoundJPEG: the walk finds nothing wrong with sound files of every kind,
// whatever their tables, sampling and passes.
func TestSoundJPEG(t *testing.T) {
	t.Parallel()
	for _, w := range []int{1, 7, 8, 17, 100} {
		for _, h := range []int{1, 9, 16, 90} {
			m := noise(w, h)
			for name, o := range map[string]jpegn.EncodeOptions{
				"plain": {}, "444": {Subsampling: jpegn.Subsample444}, "422": {Subsampling: jpegn.Subsample422},
				"own tables": {OptimizeCoding: true}, "restarts": {RestartInterval: 2}, "passes": {Progressive: true},
				"fine": {Quality: 100},
			} {
				data := encoded(t, func(b *bytes.Buffer) error { return jpegn.Encode(b, m, &o) })
				if err := jpg.Check(t.Context(), bytes.NewReader(data)); err != nil {
					t.Errorf("%s %d × %d: %v", name, w, h, err)
				}
			}
			if err := jpg.Check(t.Context(), bytes.NewReader(jpegOf(t, greyNoise(w, h)))); err != nil {
				t.Errorf("grey %d × %d: %v", w, h, err)
			}
		}
	}
	if err := jpg.Check(t.Context(), bytes.NewReader(testFile(t, "address_cmyk.jpg"))); err != nil {
		t.Errorf("four inks: %v", err)
	}
}

// TestPanicContained: a decoder that breaks down is an error.
func TestPanicContained(t *testing.T) {
	t.Parallel()
	_, err := guarded(func() (image.Image, error) {
		var none []int
		_ = none[len(t.Name())]
		return nil, nil
	})
	if err == nil || !errors.Is(err, errPanicked) {
		t.Errorf("panic became %v, want errPanicked", err)
	}
}

// asRGB marks a JPEG as red, green and blue, which another decoder reads.
func asRGB(data []byte) []byte {
	return withSegment(data, 0xee, []byte("Adobe\x00\x64\x00\x00\x00\x00\x00"))
}

// TestDamageWithinLarge: damage inside a large file is found while it is
// opened, also where another decoder has to read it.
func TestDamageWithinLarge(t *testing.T) {
	t.Parallel()
	plain := encoded(t, func(b *bytes.Buffer) error {
		return jpegn.Encode(b, noise(1600, 1200), &jpegn.EncodeOptions{Quality: 98, Subsampling: jpegn.Subsample444})
	})
	for name, data := range map[string][]byte{"plain": plain, "rgb": asRGB(plain)} {
		openBytes(t, name, bytes.Clone(data))
		if err := openErr(t, name, broken(data)); !errors.Is(err, ErrCorrupt) {
			t.Errorf("%s: %v, want ErrCorrupt", name, err)
		}
	}
}

func broken(data []byte) []byte {
	data = bytes.Clone(data)
	copy(data[len(data)/2:], "\x12\x34\x56\x78\x12\x34\x56\x78")
	return data
}
