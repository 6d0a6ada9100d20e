package paper

import (
	"image"
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/rectify"
)

// The made sheet: a paper with a dot each 100 m, dark on light ground.
const (
	dotM              = 100.0
	madeE, madeN      = 27_000.0, 743_000.0
	madeWide, madeTal = 1500, 1300
)

// shown is where a position lies in a picture, from metres east and north of the made
// origin.
type shown func(e, n float64) calib.PicturePt

// askew is paper seen askew and turned by ten degrees, at some 2.5 m a pixel.
func askew(e, n float64) calib.PicturePt {
	sin, cos := math.Sincos(10 * math.Pi / 180)
	x, y := e*cos+n*sin, n*cos-e*sin
	w := 1 + 3e-5*x - 4e-5*y
	return calib.PicturePt{Col: (80 + 0.42*x) / w, Row: (1240 - 0.43*y) / w}
}

// hardly is turned by a tenth of a degree.
func hardly(e, n float64) calib.PicturePt {
	sin, cos := math.Sincos(0.1 * math.Pi / 180)
	return calib.PicturePt{Col: 60 + 0.4*(e*cos+n*sin), Row: 1250 + 0.4*(e*sin-n*cos)}
}

// dotted draws the dots of the sheet and returns those well within it, as control points.
func dotted(at shown) (*image.RGBA, []calib.ControlPoint) {
	m := image.NewRGBA(image.Rect(0, 0, madeWide, madeTal))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	var points []calib.ControlPoint
	for i := -20; i <= 60; i++ {
		for j := -20; j <= 60; j++ {
			p := at(float64(i)*dotM, float64(j)*dotM)
			if p.Col < 12 || p.Row < 12 || p.Col > madeWide-12 || p.Row > madeTal-12 {
				continue
			}
			if i%3 == 0 && j%3 == 0 {
				points = append(points, calib.ControlPoint{At: p, Ref: geodesy.Grid{E: madeE + float64(i)*dotM, N: madeN + float64(j)*dotM}})
			}
			const sigma = 1.6
			for y := int(p.Row) - 7; y <= int(p.Row)+7; y++ {
				for x := int(p.Col) - 7; x <= int(p.Col)+7; x++ {
					dx, dy := float64(x)+0.5-p.Col, float64(y)+0.5-p.Row
					v := uint8(255 - 250*math.Exp(-(dx*dx+dy*dy)/(2*sigma*sigma)))
					copy(m.Pix[m.PixOffset(x, y):], []uint8{v, v, v})
				}
			}
		}
	}
	return m, points
}

func bng(t testing.TB) *geodesy.System {
	t.Helper()
	s, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// madeSheet is the made sheet, calibrated on its dots.
func madeSheet(t testing.TB, at shown, kind calib.Medium) rectify.Sheet {
	t.Helper()
	m, points := dotted(at)
	c, err := calib.Fit(points, calib.Options{Medium: kind, Width: madeWide, Height: madeTal})
	if err != nil {
		t.Fatal(err)
	}
	return rectify.Sheet{Name: "made.png", Width: madeWide, Height: madeTal, Cut: rectify.CutOf(m), System: bng(t), Calibration: c}
}

// at is a position some metres from the made origin.
func at(e, n float64) geodesy.Grid { return geodesy.Grid{E: madeE + e, N: madeN + n} }
