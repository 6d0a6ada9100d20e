package paper

import (
	"fmt"
	"math"

	"legwright/app/geodesy"
	"legwright/mapio/rectify"
)

// The scales at which a cut can be drawn: 1 mm on paper is Scale mm on the grid.
const (
	LeastScale = 5_000
	MostScale  = 100_000
)

// Ground is a rectangle on a grid, metres.
type Ground struct{ West, South, East, North float64 }

// Around is the least rectangle around positions, with a margin in metres.
func Around(list []geodesy.Grid, marginM float64) Ground {
	g := Ground{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range list {
		g.West, g.East = math.Min(g.West, p.E-marginM), math.Max(g.East, p.E+marginM)
		g.South, g.North = math.Min(g.South, p.N-marginM), math.Max(g.North, p.N+marginM)
	}
	return g
}

func (g Ground) wide() float64 { return g.East - g.West }
func (g Ground) high() float64 { return g.North - g.South }

// Cut is a part of a calibrated sheet as it is printed: grid north up, at true scale on
// the sheet's grid, lightened, with grid lines and what a plan has on the ground as black
// lines over it.
type Cut struct {
	Sheet  rectify.Sheet
	Scale  int    // 25000 is 1:25,000
	Ground Ground // that is printed, on the sheet's grid
	Things Things
	Grey   bool     // print no colours of the map
	Words  []string // that stand below the map, such as the GMA in words
}

// check refuses what cannot be printed at true scale.
func (c *Cut) check() error {
	switch {
	case c.Sheet.Calibration == nil || c.Sheet.System == nil:
		return fmt.Errorf("the sheet is not calibrated: calibrate it first")
	case c.Scale < LeastScale || c.Scale > MostScale:
		return fmt.Errorf("the scale 1:%s is not possible: choose 1:%s to 1:%s", thousands(c.Scale), thousands(LeastScale), thousands(MostScale))
	case c.Sheet.System.Bends() != "":
		return fmt.Errorf("this map cannot be printed at true scale, because its grid, %s, does not keep one scale: print without the map", c.Sheet.System)
	case !(c.Ground.wide() > 0 && c.Ground.high() > 0) || math.IsInf(c.Ground.wide(), 0) || math.IsInf(c.Ground.high(), 0):
		return fmt.Errorf("there is no ground to print: add a leg or a mark first")
	}
	return nil
}

// mm is the length on paper of a length on the grid, millimetres.
func (c *Cut) mm(m float64) float64 { return m * 1000 / float64(c.Scale) }

// metres is the length on the grid of a length on paper, metres.
func (c *Cut) metres(mm float64) float64 { return mm * float64(c.Scale) / 1000 }

// usualScales are those of walkers' maps (common practice, no source).
var usualScales = []int{5_000, 7_500, 10_000, 12_500, 15_000, 20_000, 25_000, 30_000, 40_000, 50_000, 63_360, 75_000, 100_000}

// nearlyScale is how far a sheet's scale may be from a usual one to be called by that.
const nearlyScale = 0.03

// OwnScale is the scale of a sheet's own paper, by the resolution of its picture: the
// usual one that it nearly is, else to two figures. ok is false where the resolution is
// not known, or the scale cannot be printed.
func OwnScale(s rectify.Sheet) (scale int, ok bool) {
	if s.Calibration == nil || !(s.DPI > 0) {
		return 0, false
	}
	own := s.Calibration.MetresPerPixel() * s.DPI / inchM
	for _, u := range usualScales {
		if math.Abs(own/float64(u)-1) <= nearlyScale {
			return u, true
		}
	}
	if !(own >= LeastScale && own <= MostScale) {
		return 0, false
	}
	tens := math.Pow(10, math.Floor(math.Log10(own))-1)
	return int(math.Round(own/tens) * tens), true
}

const inchM = 0.0254

// thousands writes a whole number with commas: 25,000.
func thousands(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s,%03d", thousands(n/1000), n%1000)
}
