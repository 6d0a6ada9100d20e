package rectify

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/draw"
	"image/png"
	"math"
	"testing"

	"legwright/app/calib"
)

// drawnWhole joins the strips of Draw.
func drawnWhole(t *testing.T, s Sheet, f Frame) *image.RGBA {
	t.Helper()
	out, next := image.NewRGBA(image.Rect(0, 0, f.Cols, f.Rows)), 0
	err := Draw(context.Background(), s, f, func(m *image.RGBA) error {
		if m.Rect.Min.Y != next || m.Rect.Dx() != f.Cols {
			t.Errorf("a strip of %v after row %d", m.Rect, next)
		}
		next = m.Rect.Max.Y
		draw.Draw(out, m.Rect, m, m.Rect.Min, draw.Src)
		return nil
	})
	if err != nil || next != f.Rows {
		t.Fatalf("%d rows of %d: %v", next, f.Rows, err)
	}
	return out
}

// TestDrawIsWhatIsWritten: the strips are the map of the written file, paled where that is
// asked for.
func TestDrawIsWhatIsWritten(t *testing.T) {
	t.Parallel()
	whole, _ := made(t, turned, calib.Scan)
	s, f := corner(t, whole)
	file, err := png.Decode(bytes.NewReader(written(t, s, f, PNG)))
	if err != nil {
		t.Fatal(err)
	}
	full := drawnWhole(t, s, f)
	s.Pale = 0.5
	pale := drawnWhole(t, s, f)
	darkest := 255.0
	for y := range f.Rows {
		for x := range f.Cols {
			r, _, _, _ := file.At(x, y).RGBA()
			was, is := full.RGBAAt(x, y).R, pale.RGBAAt(x, y).R
			if uint8(r>>8) != was {
				t.Fatalf("pixel %d, %d is %d in the file and %d in a strip", x, y, r>>8, was)
			}
			if math.Abs(float64(is)-(255+float64(was))/2) > 1 {
				t.Fatalf("pixel %d, %d of %d is paled to %d", x, y, was, is)
			}
			darkest = min(darkest, float64(is))
		}
	}
	if darkest < 127 || darkest > 170 {
		t.Errorf("the darkest paled pixel is %v", darkest)
	}
}

// TestDrawStops: an error of whoever takes the strips ends the drawing, and so does the
// end of the context, with its cause.
func TestDrawStops(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	f, err := FrameOf(s.Calibration, s.Width, s.Height, 0)
	if err != nil {
		t.Fatal(err)
	}
	full := errors.New("no room")
	if err := Draw(context.Background(), s, f, func(*image.RGBA) error { return full }); !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
	ctx, stop := context.WithCancelCause(context.Background())
	strips, enough := 0, errors.New("enough")
	err = Draw(ctx, s, f, func(*image.RGBA) error { strips++; stop(enough); return nil })
	if !errors.Is(err, enough) || strips > 2 {
		t.Errorf("got %v after %d strips", err, strips)
	}
}

// TestMeanInWholeNumbers: readings in whole numbers differ from those in fractions by less
// than one and a half of 255 shades, and only where nothing is transparent and no edge is near.
func TestMeanInWholeNumbers(t *testing.T) {
	t.Parallel()
	m := image.NewRGBA(image.Rect(0, 0, 60, 60))
	for i := range m.Pix {
		m.Pix[i] = byte(i * i * 31)
		if i%4 == 3 {
			m.Pix[i] = 255
		}
	}
	b := &block{cut: m, from: m.Rect, solid: true}
	amid := 0
	for i := range 400 {
		f := float64(i)
		at := calib.PicturePt{Col: 30 + 29*math.Sin(f), Row: 30 + 29*math.Sin(1.7*f)}
		right, down := calib.PicturePt{Col: 1.3 + 0.01*f, Row: 0.2}, calib.PicturePt{Col: -0.3, Row: 1.2 + 0.01*f}
		n := 2 + i%(maxAcross-1)
		quick, ok := b.meanAmid(at, right, down, n)
		if !ok {
			continue
		}
		amid++
		b.solid = false // which reads in fractions
		exact := b.mean(at, right, down, n)
		b.solid = true
		for k := range exact {
			if math.Abs(exact[k]-quick[k]) > 1.5 {
				t.Fatalf("at %v, %d readings across: %v, want %v", at, n, quick, exact)
			}
		}
	}
	if amid < 200 || amid == 400 {
		t.Errorf("%d of 400 points were read in whole numbers", amid)
	}
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	b.lanes = b.lanes[:0]
	if v, ok := b.meanAmid(calib.PicturePt{Col: 30, Row: 30}, calib.PicturePt{Col: 23}, calib.PicturePt{Row: 23}, maxAcross); !ok || v != [3]float64{255, 255, 255} {
		t.Errorf("white is read as %v, %v", v, ok)
	}
	b.solid = false
	if _, ok := b.meanAmid(calib.PicturePt{Col: 30, Row: 30}, calib.PicturePt{Col: 1.3}, calib.PicturePt{Row: 1.3}, 2); ok {
		t.Error("a transparent picture was read in whole numbers")
	}
}

// TestStruckInFullInk: paled or not, what the control points do not reach is struck through as
// dark as ever.
func TestStruckInFullInk(t *testing.T) {
	t.Parallel()
	var corner []calib.ControlPoint
	for _, p := range intersections(askew, fineSquareM) {
		if p.At.Col < 420 && p.At.Row > 330 {
			corner = append(corner, p)
		}
	}
	c, err := calib.Fit(corner, calib.Options{Medium: calib.Photograph, Width: madeW, Height: madeH})
	if err != nil {
		t.Fatal(err)
	}
	s := Sheet{Width: madeW, Height: madeH, Cut: CutOf(dotted(nil)), System: system(t), Calibration: c, Grey: true, Pale: 0.5}
	f, err := FrameOf(c, madeW, madeH, 3.6)
	if err != nil {
		t.Fatal(err)
	}
	m, struck := drawnWhole(t, s, f), 0
	for i := 0; i < len(m.Pix); i += 4 {
		if m.Pix[i] == 40 {
			struck++
		}
	}
	if part := float64(struck) / float64(f.Cols*f.Rows); part < 0.05 {
		t.Errorf("%.1f %% of the pixels are dark slanting lines", 100*part)
	}
}
