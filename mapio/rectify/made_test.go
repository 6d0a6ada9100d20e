package rectify

import (
	"bytes"
	"context"
	"image"
	"math"
	"strconv"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// The made picture: a plane paper seen askew. Its intersections lie every madeSquareM
// on the grid, each a dark dot; where the fit itself is looked at, every fineSquareM.
const (
	madeW, madeH = 900, 700
	madeSquareM  = 200.0
	fineSquareM  = 100.0
	madeEast     = 27_000.0
	madeNorth    = 743_000.0
)

// seen is where a grid position lies in a picture of one of the kinds.
type seen func(e, n float64) calib.PicturePt

// askew is a homography from metres east and north of the made origin.
func askew(e, n float64) calib.PicturePt {
	w := 1 + 1.6e-4*e - 2.1e-4*n
	return calib.PicturePt{Col: (90 + 0.62*e + 0.08*n) / w, Row: (640 + 0.09*e - 0.66*n) / w}
}

// turned is a similarity turned by twelve degrees.
func turned(e, n float64) calib.PicturePt {
	sin, cos := math.Sincos(12 * math.Pi / 180)
	return calib.PicturePt{Col: 120 + 0.7*(e*cos+n*sin), Row: 560 + 0.7*(e*sin-n*cos)}
}

// folded is a paper that bends gently.
func folded(e, n float64) calib.PicturePt {
	p := turned(e, n)
	p.Col += 6 * math.Sin(p.Row/180)
	p.Row += 5 * math.Sin(p.Col/210)
	return p
}

// intersections are those of squares of a size that lie well within the picture.
func intersections(at seen, squareM float64) (list []calib.ControlPoint) {
	for i := -10; i <= 20; i++ {
		for j := -10; j <= 20; j++ {
			p := at(float64(i)*squareM, float64(j)*squareM)
			if p.Col > 15 && p.Row > 15 && p.Col < madeW-15 && p.Row < madeH-15 {
				list = append(list, calib.ControlPoint{At: p, Ref: geodesy.Grid{
					E: madeEast + float64(i)*squareM, N: madeNorth + float64(j)*squareM,
				}})
			}
		}
	}
	return list
}

// dotted draws a dot of Gaussian shade at each point, on a light ground.
func dotted(points []calib.ControlPoint) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, madeW, madeH))
	for i := range m.Pix {
		m.Pix[i] = 235
		if i%4 == 3 {
			m.Pix[i] = 255
		}
	}
	const sigma = 2.0
	for _, p := range points {
		for y := int(p.At.Row) - 9; y <= int(p.At.Row)+9; y++ {
			for x := int(p.At.Col) - 9; x <= int(p.At.Col)+9; x++ {
				dx, dy := float64(x)+0.5-p.At.Col, float64(y)+0.5-p.At.Row
				v := 235 - 200*math.Exp(-(dx*dx+dy*dy)/(2*sigma*sigma))
				if o := m.PixOffset(x, y); x >= 0 && y >= 0 && x < madeW && y < madeH {
					m.Pix[o], m.Pix[o+1], m.Pix[o+2] = uint8(v), uint8(v), uint8(v)
				}
			}
		}
	}
	return m
}

func system(t testing.TB) *geodesy.System {
	t.Helper()
	s, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// made is the sheet of a kind of picture.
func made(t testing.TB, at seen, kind calib.Medium) (Sheet, []calib.ControlPoint) {
	t.Helper()
	return madeOf(t, intersections(at, madeSquareM), kind)
}

// madeOf is the sheet of a picture with these intersections.
func madeOf(t testing.TB, points []calib.ControlPoint, kind calib.Medium) (Sheet, []calib.ControlPoint) {
	t.Helper()
	c, err := calib.Fit(points, calib.Options{Medium: kind, Width: madeW, Height: madeH})
	if err != nil {
		t.Fatal(err)
	}
	return Sheet{
		Name: "made.png", Width: madeW, Height: madeH, Cut: CutOf(dotted(points)), System: system(t), Calibration: c, DPI: 254,
	}, points
}

// corner is the top left quarter of a made sheet, for what does not depend on its size.
func corner(t testing.TB, s Sheet) (Sheet, Frame) {
	t.Helper()
	s.Width, s.Height = madeW/2, madeH/2
	f, err := FrameOf(s.Calibration, s.Width, s.Height, 0)
	if err != nil {
		t.Fatal(err)
	}
	return s, f
}

// written is the file of a sheet.
func written(t testing.TB, s Sheet, f Frame, format Format) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(context.Background(), &b, s, f, format, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// darkest is the centre of gravity of what is darker than the ground around a
// point, in pixels from the corner.
func darkest(m image.Image, col, row float64) (x, y float64) {
	const half = 7
	var sum float64
	for j := int(row) - half; j <= int(row)+half; j++ {
		for i := int(col) - half; i <= int(col)+half; i++ {
			r, _, _, _ := m.At(i, j).RGBA()
			if d := 225 - float64(r>>8); d > 0 {
				sum += d
				x += d * (float64(i) + 0.5)
				y += d * (float64(j) + 0.5)
			}
		}
	}
	return x / sum, y / sum
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
