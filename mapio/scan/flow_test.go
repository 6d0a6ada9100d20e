package scan

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"image"
	"image/jpeg"
	"io/fs"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"legwright/mapio/tiff"
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
	switch m := m.(type) {
	case *image.Gray:
		return m.GrayAt(x, y).Y
	case *image.YCbCr:
		return m.YCbCrAt(x, y).Y
	}
	return m.(*image.RGBA).RGBAAt(x, y).G
}

// overviewed is an RGB TIFF in strips of 64 rows.
func overviewed(w, h int) []byte { return overviewedIn(w, h, 64) }

// overviewedIn is an RGB TIFF in at least two strips of so many rows, with a reduced page of an
// eighth behind it. Sides are multiples of 8, and the height at least 1,024.
func overviewedIn(w, h, rows int) []byte {
	b := []byte("II*\x00\x08\x00\x00\x00")
	b = stripped(b, noise(w, h), 0, rows)
	return stripped(b, noise(w/8, h/8), 1, 64)
}

// stripped appends a page to a TIFF: its directory, what that points to, its
// pixels. A picture is followed by another page, a reduced one is the last.
func stripped(b []byte, m *image.RGBA, reduced uint32, rows int) []byte {
	const entries = 10
	le, w, h := binary.LittleEndian, m.Rect.Dx(), m.Rect.Dy()
	n := uint32((h + rows - 1) / rows)
	bits := uint32(len(b) + 2 + 12*entries + 4)
	pixels := bits + 6 + 8*n
	b = le.AppendUint16(b, entries)
	for _, e := range [entries][4]uint32{
		{254, 4, 1, reduced},
		{tagWidth, 4, 1, uint32(w)},
		{tagHeight, 4, 1, uint32(h)},
		{tagBits, 3, 3, bits},
		{tagCompression, 3, 1, 1},
		{tagPhotometric, 3, 1, 2},
		{273, 4, n, bits + 6},
		{tagSamples, 3, 1, 3},
		{278, 4, 1, uint32(rows)},
		{279, 4, n, bits + 6 + 4*n},
	} {
		b = le.AppendUint16(le.AppendUint16(b, uint16(e[0])), uint16(e[1]))
		b = le.AppendUint32(le.AppendUint32(b, e[2]), e[3])
	}
	next := pixels + uint32(3*w*h)
	b = le.AppendUint32(b, next*(1-reduced))
	b = append(b, 8, 0, 8, 0, 8, 0)
	for i := range n {
		b = le.AppendUint32(b, pixels+i*uint32(3*w*rows))
	}
	for i := range int(n) {
		b = le.AppendUint32(b, uint32(3*w*min(rows, h-i*rows)))
	}
	for i := 0; i < len(m.Pix); i += 4 {
		b = append(b, m.Pix[i:i+3]...)
	}
	return b
}

// TestFlow: what flows is the picture that is decoded otherwise, the hash is
// there before it, and no picture is left over. More rows than may be ahead
// come, so that decoding has to wait.
func TestFlow(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{
		"colour": jpegOf(t, noise(411, 2*flowAhead+333)), "grey": jpegOf(t, greyNoise(411, 907)),
		"TIFF": overviewed(400, 2*flowAhead+320),
	} {
		whole, err := openData(t.Context(), name, data, Options{})
		if err != nil {
			t.Fatal(err)
		}
		var got map[int]uint8
		var sum [32]byte
		opt := flowing(func(f *Flow) (err error) {
			got, err = gathered(f)
			if sum != sha256.Sum256(data) {
				t.Errorf("%s: it flows before its hash has come", name)
			}
			return err
		})
		opt.Hash = func(s [32]byte) { sum = s }
		opt.Preview = func(p Preview) { sum = p.SHA256 }
		s, err := openData(t.Context(), name, data, opt)
		if err != nil || !s.Flowed || s.Image != nil || len(s.Notes) > 0 {
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
	tif := overviewed(400, 1600)
	whole := func(name string, data []byte) *Scan {
		s, err := openData(t.Context(), name, data, Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		return s
	}
	asJPEG, asTIFF := whole("JPEG", sound), whole("TIFF", tif)
	for name, c := range map[string]struct {
		data []byte
		want *Scan
		take func(*Flow) error
	}{
		"refused": {sound, asJPEG, func(*Flow) error { return refuse }}, "half way": {sound, asJPEG, half}, "panics": {sound, asJPEG, broken},
		"leaves early": {sound, asJPEG, func(*Flow) error { return nil }}, "TIFF refused": {tif, asTIFF, half},
		"TIFF panics": {tif, asTIFF, broken}, "TIFF leaves early": {tif, asTIFF, func(*Flow) error { return nil }},
	} {
		asked := 0
		got, err := openData(t.Context(), name, c.data, flowing(func(f *Flow) error { asked++; return c.take(f) }))
		if err != nil || asked != 1 || got.Flowed || len(got.Notes) != len(c.want.Notes) {
			t.Errorf("%s: %v, asked %d, %+v; want the whole", name, err, asked, got)
			continue
		}
		if !rowsAlike(got.Image, c.want.Image, 1000) {
			t.Errorf("%s: the whole differs from what is decoded without asking", name)
		}
	}
	lost := bytes.Clone(tif)
	binary.LittleEndian.PutUint32(lost[8+2+12*10+4+6+4*20:], 1<<30) // where the strip of row 1280 is
	damaged := bytes.Clone(sound)
	copy(damaged[len(damaged)*3/4:], []byte{0xff, 0xc0, 0xff, 0xc0})
	for name, data := range map[string][]byte{"cut off": sound[:len(sound)*2/3], "damaged": damaged, "TIFF damaged": lost} {
		s, err := openData(t.Context(), name, data, flowing(awaits))
		if s != nil || !errors.Is(err, ErrTruncated) && !errors.Is(err, ErrCorrupt) {
			t.Errorf("%s: %v, %+v; want that it is damaged", name, err, s)
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
		if s, err := openData(t.Context(), name, c.data, c.opt); err != nil || s.Flowed || s.Image == nil {
			t.Errorf("%s: %v, %+v", name, err, s)
		}
	}
}

// patience is how long a test waits for what must come. It only bounds a test that fails.
const patience = time.Minute

// TestNoFlowDoesNotWait: a TIFF of a kind that does not flow is decoded beside
// its preview and hash, not after them.
func TestNoFlowDoesNotWait(t *testing.T) {
	t.Parallel()
	opt := flowing(func(*Flow) error { t.Error("it flows"); return nil })
	decoding, once := make(chan struct{}), sync.Once{}
	opt.Progress = func(stage string, done, _ int64) {
		if stage == StageDecode && done > 0 {
			once.Do(func() { close(decoding) })
		}
	}
	opt.Hash = func([32]byte) {}
	opt.Preview = func(Preview) {
		select {
		case <-decoding:
		case <-time.After(patience):
			t.Error("decoding waits for the preview")
		}
	}
	s, err := openData(t.Context(), "sheet", overviewedIn(200, 2240, tiff.MaxBand+8), opt)
	if err != nil || s.Flowed || s.Image == nil {
		t.Errorf("%v, %+v; want the whole", err, s)
	}
}

// longJPEG and longTIFF have three times as many rows as may be ahead. Nobody writes to them.
var longJPEG = sync.OnceValue(func() []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, noise(400, 3*flowAhead), &jpeg.Options{Quality: 92}); err != nil {
		panic(err)
	}
	return b.Bytes()
})

var longTIFF = sync.OnceValue(func() []byte { return overviewed(200, 3*flowAhead) })

// TestFlowGivenUp: who gives an opening up need not wait for who takes the
// picture, and the taker hears of it.
func TestFlowGivenUp(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"JPEG": longJPEG(), "TIFF": longTIFF()} {
		ctx, cancel := context.WithCancel(t.Context())
		heard := make(chan error, 1)
		_, err := openData(ctx, name, data, flowing(func(f *Flow) error {
			cancel()
			err := f.Await(context.Background(), f.Image.Bounds().Dy()) // nothing is released: decoding waits
			heard <- err
			return err
		}))
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v, want that it was cancelled", name, err)
		}
		select {
		case err := <-heard:
			if err == nil {
				t.Errorf("%s: the taker has all rows of a picture that was cancelled", name)
			}
		case <-time.After(patience):
			t.Errorf("%s: the taker still waits", name)
		}
	}
}

// stumbling is a drive that fails at the next read once a test asks for it, and
// never again.
type stumbling struct {
	data []byte
	next atomic.Bool
}

func (d *stumbling) Open(string) (fs.File, error) {
	return &stumblingFile{slowFile{at: bytes.NewReader(d.data)}, d}, nil
}

type stumblingFile struct {
	slowFile
	drive *stumbling
}

func (f *stumblingFile) ReadAt(p []byte, off int64) (int, error) {
	if f.drive.next.CompareAndSwap(true, false) {
		return 0, fs.ErrInvalid
	}
	return f.at.ReadAt(p, off)
}

// TestFlowStumbles: where the drive fails while the picture flows, the whole is
// read again, and opens where that goes well.
func TestFlowStumbles(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"a.jpg": longJPEG(), "a.tif": longTIFF()} {
		drive, failed := &stumbling{data: data}, false
		s, err := Open(t.Context(), drive, name, flowing(func(f *Flow) error {
			if err := f.Await(context.Background(), 300); err != nil {
				return err
			}
			drive.next.Store(true)
			_, err := gathered(f)
			failed = errors.Is(err, fs.ErrInvalid)
			return err
		}))
		if err != nil || !failed || s.Flowed || s.Image == nil || len(s.Notes) > 0 {
			t.Errorf("%s: %v, failed %v, %+v; want the whole after a fault", name, err, failed, s)
		}
	}
}

// TestFlowChangedFile: a file that changes while it flows, which is so long
// that decoding waits, is refused.
func TestFlowChangedFile(t *testing.T) {
	t.Parallel()
	for name, data := range map[string][]byte{"a.jpg": longJPEG(), "a.tif": longTIFF()} {
		fsys := fstest.MapFS{name: {Data: data, ModTime: time.Unix(1, 0)}}
		s, err := Open(t.Context(), fsys, name, flowing(func(f *Flow) error {
			if err := f.Await(context.Background(), 300); err != nil {
				return err
			}
			fsys[name].ModTime = time.Unix(2, 0)
			_, err := gathered(f)
			return err
		}))
		if s != nil || !errors.Is(err, ErrChanged) {
			t.Errorf("%s: %v, %+v; want ErrChanged", name, err, s)
		}
	}
}

// TestFlowClosed: however a flow ends, its memory goes back once neither the
// decoder nor the taker is at work any more, and what is asked of it afterwards
// does nothing.
func TestFlowClosed(t *testing.T) {
	t.Parallel()
	jpeg, tif := jpegOf(t, noise(96, 2*flowAhead)), overviewed(96, 2*flowAhead)
	damaged := bytes.Clone(jpeg)
	copy(damaged[len(damaged)*3/4:], []byte{0xff, 0xc0, 0xff, 0xc0})
	takes := map[string]func(f *Flow, cancel func()) error{
		"taken":   func(f *Flow, _ func()) error { _, err := gathered(f); return err },
		"refused": func(*Flow, func()) error { return errLeft },
		"panics":  func(f *Flow, _ func()) error { panic("taker") },
		"leaves at the first rows": func(f *Flow, _ func()) error {
			return errors.Join(f.Await(context.Background(), 100), errLeft)
		},
		"cancels":           func(f *Flow, cancel func()) error { cancel(); _, err := gathered(f); return err },
		"cancels and stays": func(f *Flow, cancel func()) error { cancel(); luma(f.Image, 0, 0); return nil },
		"cancels at rows": func(f *Flow, cancel func()) error {
			err := f.Await(context.Background(), 500)
			cancel()
			luma(f.Image, 3, 3)
			f.Release(300)
			return err
		},
	}
	for name, data := range map[string][]byte{"JPEG": jpeg, "TIFF": tif, "damaged": damaged, "cut off": jpeg[:len(jpeg)*2/3]} {
		for how, take := range takes {
			ctx, cancel := context.WithCancel(t.Context())
			var flow *Flow
			o := NewOpener()
			_, _ = o.Open(ctx, fstest.MapFS{"a": {Data: data}}, "a", flowing(func(f *Flow) error {
				flow = f
				return take(f, cancel)
			})) // how it ends is others' test
			o.slot <- struct{}{} // free once the work has ended, also that of an opening that was cancelled
			cancel()
			if flow == nil {
				continue // found damaged before
			}
			if flow.from != nil {
				t.Errorf("%s, %s: the memory is still there", name, how)
			}
			flow.Release(1000)
			flow.came(1000)
			_ = flow.Await(ctx, 1)
		}
	}
}
