package scan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"image"
	"testing"
	"testing/fstest"
	"time"
)

// flowing are options under which any JPEG flows to take.
func flowing(take func(*Flow) error) Options {
	return Options{Side: 40, Preview: func(Preview) {}, Flow: take, FlowFrom: 1}
}

// gathered copies a flowing picture, strip by strip, letting each go.
func gathered(f *Flow) (map[int]uint8, error) {
	got := map[int]uint8{}
	w, h := f.Image.Bounds().Dx(), f.Image.Bounds().Dy()
	for y := 0; y < h; y += 100 {
		to := min(y+100, h)
		if err := f.Await(context.Background(), to); err != nil {
			return nil, err
		}
		for r := y; r < to; r++ {
			for x := 0; x < w; x += 7 {
				got[r*w+x] = luma(f.Image, x, r)
			}
		}
		f.Release(to)
	}
	return got, nil
}

func luma(m image.Image, x, y int) uint8 {
	if g, ok := m.(*image.Gray); ok {
		return g.GrayAt(x, y).Y
	}
	return m.(*image.YCbCr).YCbCrAt(x, y).Y
}

// TestFlow: what flows is the picture that is decoded otherwise, the hash is
// there before it, and no picture is left over. More rows than may be ahead
// come, so that decoding has to wait.
func TestFlow(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"colour": jpegOf(t, noise(411, 2*flowAhead+333)), "grey": jpegOf(t, greyNoise(411, 907)),
	} {
		whole, err := OpenBytes(t.Context(), name, data, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var got map[int]uint8
		var sum [32]byte
		opt := flowing(func(f *Flow) (err error) {
			got, err = gathered(f)
			if sum != sha256.Sum256(data) {
				t.Errorf("%s: it flows before its hash is told", name)
			}
			return err
		})
		opt.Hash = func(s [32]byte) { sum = s }
		opt.Preview = func(p Preview) { sum = p.SHA256 }
		s, err := OpenBytes(t.Context(), name, data, opt)
		if err != nil || !s.Flowed || s.Image != nil || s.Truncated || len(s.Warnings) > 0 {
			t.Fatalf("%s: %v, %+v; want it flowed, without a picture", name, err, s)
		}
		w := s.Header.Width
		if len(got) != (w+6)/7*s.Header.Height {
			t.Errorf("%s: %d pixels came", name, len(got))
		}
		for at, v := range got {
			if want := luma(whole.Image, at%w, at/w); v != want {
				t.Fatalf("%s: (%d, %d) is %d, want %d", name, at%w, at/w, v, want)
			}
		}
	}
}

// TestFlowFallsBack: where nobody takes all of it, or something is wrong with
// it, the whole comes as if it had not been tried, and says the same.
func TestFlowFallsBack(t *testing.T) {
	t.Parallel()
	sound := jpegOf(t, noise(400, 1000))
	refuse := errors.New("the disk is full")
	half := func(f *Flow) error {
		if err := f.Await(context.Background(), 500); err != nil {
			return err
		}
		f.Release(500)
		return refuse
	}
	broken := func(*Flow) error { panic("taker") }
	awaits := func(f *Flow) error { _, err := gathered(f); return err }
	damaged := bytes.Clone(sound)
	copy(damaged[len(damaged)*3/4:], []byte{0xff, 0xc0, 0xff, 0xc0})
	for name, c := range map[string]struct {
		data []byte
		take func(*Flow) error
	}{
		"refused": {sound, func(*Flow) error { return refuse }}, "half way": {sound, half}, "panics": {sound, broken},
		"leaves early": {sound, func(*Flow) error { return nil }},
		"cut off":      {sound[:len(sound)*2/3], awaits}, "damaged": {damaged, awaits},
	} {
		want, err := OpenBytes(t.Context(), name, c.data, Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		asked := 0
		got, err := OpenBytes(t.Context(), name, c.data, flowing(func(f *Flow) error { asked++; return c.take(f) }))
		if err != nil || asked != 1 || got.Flowed || got.Truncated != want.Truncated || len(got.Warnings) != len(want.Warnings) {
			t.Errorf("%s: %v, asked %d, %+v; want the whole", name, err, asked, got)
			continue
		}
		if !rowsAlike(got.Image, want.Image, 1000) {
			t.Errorf("%s: the whole differs from what is decoded without asking", name)
		}
	}
}

// TestNoFlow: turned pictures, those in several passes, those that are too
// small and those without a preview do not flow.
func TestNoFlow(t *testing.T) {
	t.Parallel()
	plain := jpegOf(t, noise(400, 600))
	never := flowing(func(*Flow) error { t.Error("it flows"); return nil })
	small, large := never, never
	small.FlowFrom, large.Side = 0, 400
	for name, c := range map[string]struct {
		data []byte
		opt  Options
	}{
		"turned": {withExif(plain, 6, 300), never}, "passes": {progressiveOf(t, noise(400, 600)), never},
		"small": {plain, small}, "no preview": {plain, large}, "other": {pngOf(t, noise(90, 90)), never},
	} {
		if s, err := OpenBytes(t.Context(), name, c.data, c.opt); err != nil || s.Flowed || s.Image == nil {
			t.Errorf("%s: %v, %+v", name, err, s)
		}
	}
}

// TestFlowGivenUp: who gives an opening up need not wait for who takes the
// picture, and the taker hears of it.
func TestFlowGivenUp(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	heard := make(chan error, 1)
	_, err := OpenBytes(ctx, "sheet", jpegOf(t, noise(400, 3*flowAhead)), flowing(func(f *Flow) error {
		cancel()
		err := f.Await(context.Background(), f.Image.Bounds().Dy()) // nothing is released: decoding waits
		heard <- err
		return err
	}))
	if !errors.Is(err, context.Canceled) {
		t.Errorf("opening: %v, want that it was given up", err)
	}
	select {
	case err := <-heard:
		if err == nil {
			t.Error("the taker has all rows of a picture that was given up")
		}
	case <-time.After(20 * time.Second):
		t.Error("the taker still waits")
	}
}

// TestFlowChangedFile: a file that changes while it flows, which is so long
// that decoding waits, is not taken for whole.
func TestFlowChangedFile(t *testing.T) {
	t.Parallel()
	data := jpegOf(t, noise(400, 2*flowAhead))
	fsys := fstest.MapFS{"a.jpg": {Data: data, ModTime: time.Unix(1, 0)}}
	s, err := Open(t.Context(), fsys, "a.jpg", flowing(func(f *Flow) error {
		if err := f.Await(context.Background(), 300); err != nil {
			return err
		}
		fsys["a.jpg"].ModTime = time.Unix(2, 0)
		_, err := gathered(f)
		return err
	}))
	if err != nil || s.Flowed || !s.Changed || !s.Truncated || len(s.Warnings) == 0 {
		t.Errorf("%v, %+v; want the whole with a warning", err, s)
	}
}
