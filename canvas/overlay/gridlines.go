package overlay

import (
	"math"
	"strconv"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// mostLines is how many grid lines a sheet may have before only every tenth
// is made.
const mostLines = 400

// Grid is the grid lines of a sheet where its calibration has them, cut to the picture:
// east lines first, then north lines. They lie at each thousand of the unit in which
// the grid is printed.
type Grid struct {
	Lines []GridLine
	Px    float64 // distance of neighbouring lines, picture pixels
}

// grid draws the grid, if it is to be drawn.
func (b *builder) grid() {
	if !b.o.Grid {
		return
	}
	lines := b.o.Lines
	if lines == nil {
		made := GridOf(b.sheet, b.sys, b.c)
		lines = &made
	}
	b.out.Grid, b.out.GridPx = lines.Lines, lines.Px
}

// gridder makes the grid of a sheet.
type gridder struct {
	sheet plan.Sheet
	sys   *geodesy.System // nil where the sheet has no grid yet
	c     *calib.Calibration
	out   Grid
}

// GridOf makes the grid of a sheet. With hundreds of control points that takes longer
// than a frame; it may be called from any goroutine.
func GridOf(sheet plan.Sheet, sys *geodesy.System, c *calib.Calibration) Grid {
	b := gridder{sheet: sheet, sys: sys, c: c}
	pw, ph := float64(b.sheet.Width), float64(b.sheet.Height)
	lo, hi := b.ground(pw, ph)
	stepM := 1000 * b.unitM()
	for (hi.E-lo.E+hi.N-lo.N)/stepM > mostLines {
		stepM *= 10
	}
	if !(stepM < 1e9) { // a fit gone wild, or no picture size
		return Grid{}
	}
	b.out.Px = stepM / b.c.MetresPerPixel()
	for e := math.Ceil(lo.E/stepM) * stepM; e <= hi.E; e += stepM {
		b.gridLine(geodesy.Grid{E: e, N: lo.N}, geodesy.Grid{E: e, N: hi.N}, e, stepM)
	}
	for n := math.Ceil(lo.N/stepM) * stepM; n <= hi.N; n += stepM {
		b.gridLine(geodesy.Grid{E: lo.E, N: n}, geodesy.Grid{E: hi.E, N: n}, n, stepM)
	}
	return b.out
}

// unitM is the unit of the grid's printed figures, in metres.
func (b *gridder) unitM() float64 {
	if b.sys == nil {
		return 1
	}
	return b.sys.Unit().Metres
}

// gridLabel writes the figure of a grid line: kilometres on a grid in metres, as
// maps print them, and the whole figure on one in feet or another unit.
func (b *gridder) gridLabel(atM float64) string {
	if u := b.unitM(); u != 1 {
		return strconv.Itoa(int(math.Round(atM / u)))
	}
	return strconv.Itoa(int(math.Round(atM / 1000)))
}

// ground is the box of grid coordinates around the picture.
func (b *gridder) ground(pw, ph float64) (lo, hi geodesy.Grid) {
	lo, hi = geodesy.Grid{E: math.Inf(1), N: math.Inf(1)}, geodesy.Grid{E: math.Inf(-1), N: math.Inf(-1)}
	for _, c := range []calib.PicturePt{{}, {Col: pw}, {Row: ph}, {Col: pw, Row: ph}} {
		g := b.c.ToGrid(c)
		lo = geodesy.Grid{E: min(lo.E, g.E), N: min(lo.N, g.N)}
		hi = geodesy.Grid{E: max(hi.E, g.E), N: max(hi.N, g.N)}
	}
	return lo, hi
}

// bendSteps is in how many pieces a line of a calibration that is not a matrix is drawn.
const bendSteps = 64

// gridLine adds the pieces of a line that lie on the picture. Pieces that join
// become one line.
func (b *gridder) gridLine(from, to geodesy.Grid, atM, stepM float64) {
	steps := 1
	if !b.c.Given() {
		steps = bendSteps
	}
	sheet := strip{img: blank(b.sheet.Width, b.sheet.Height), y1: b.sheet.Height}
	var run []view.PicPt
	flush := func() {
		if len(run) > 1 {
			b.out.Lines = append(b.out.Lines, GridLine{
				Points: run,
				Label:  b.gridLabel(atM),
				Index:  math.Mod(math.Round(atM/stepM), 10) == 0,
			})
		}
		run = nil
	}
	p := picPt(b.c.ToPicture(from))
	for i := range steps {
		f := float64(i+1) / float64(steps)
		q := picPt(b.c.ToPicture(geodesy.Grid{E: from.E + f*(to.E-from.E), N: from.N + f*(to.N-from.N)}))
		s, t, ok := sheet.clip(view.ScreenPt(p), view.ScreenPt(q), 0)
		p = q
		if !ok {
			flush()
			continue
		}
		if len(run) == 0 || run[len(run)-1].Dist(view.PicPt(s)) > 1e-6 { // the cut rounds
			flush()
			run = []view.PicPt{view.PicPt(s)}
		}
		run = append(run, view.PicPt(t))
	}
	flush()
}
