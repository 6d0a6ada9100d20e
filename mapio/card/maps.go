package card

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/mapio/paper"
	"legwright/mapio/rectify"
)

// Picture is how the picture of a sheet is read, and whether it has no colours.
type Picture struct {
	Cut  rectify.Cut
	Grey bool
}

// Unmapped is the error for a sheet whose map cannot be printed: its picture cannot be read.
type Unmapped struct {
	Sheet string
	Err   error
}

func (e *Unmapped) Error() string {
	return fmt.Sprintf("the map of sheet %s cannot be printed: %v", e.Sheet, e.Err)
}

// Unwrap returns why.
func (e *Unmapped) Unwrap() error { return e.Err }

// Unscaled is the error for a sheet whose picture does not say how large its paper is.
type Unscaled struct{ Sheet string }

func (e *Unscaled) Error() string {
	return fmt.Sprintf("the scale of %s is not known: choose one, such as 1:25,000", e.Sheet)
}

// marginM is how much ground a map shows around the plan, metres.
const marginM = 250

// Maps are the cuts of the map that follow a card, at a scale such as 25000, 0 for that of the
// sheet's own paper. If the plan has one sheet, the cut is the ground of the whole plan; if it has
// several, each gives the part that lies on it. open is asked for their pictures. Errors: *Unknown, *Unmapped, *Unscaled, and
// that of a thing which cannot be drawn.
func (c *Content) Maps(s Source, scale int, open func(plan.Sheet) (Picture, error)) ([]paper.Cut, error) {
	if len(calibrated(s)) == 0 {
		return nil, nil
	}
	things, err := Ground(s)
	if err != nil {
		return nil, err
	}
	var out []paper.Cut
	for _, m := range mapped(s, &things) {
		x, err := sheetFor(s, m.sheet, open)
		if err != nil {
			return nil, err
		}
		cut := paper.Cut{Sheet: x, Scale: scale, Ground: m.ground, Things: things, Words: []string{sheetWords(s.Reader, m.sheet.ID), sentence(c.GMA)}}
		if own, ok := paper.OwnScale(x); scale == 0 && !ok {
			return nil, &Unscaled{x.Name}
		} else if scale == 0 {
			cut.Scale = own
		}
		out = append(out, cut)
	}
	return out, nil
}

// calibrated are the sheets that a map can be cut from, first those that something was picked on.
func calibrated(s Source) (out []plan.Sheet) {
	p := s.Reader.Plan()
	used := p.SheetsUsed()
	for _, first := range []bool{true, false} {
		for _, sheet := range p.Sheets {
			if _, err := s.Reader.CalibrationOf(sheet.ID); err == nil && used[sheet.ID] == first {
				out = append(out, sheet)
			}
		}
	}
	return out
}

// onSheet is some ground and the sheet that its map is cut from.
type onSheet struct {
	sheet  plan.Sheet
	ground paper.Ground
}

// mapped is the ground of the maps that show what a cut is made for. A sheet that nothing was picked
// on is left out where the others show every leg; where all together do not, the first map is that of
// the whole ground, white where its sheet ends.
func mapped(s Source, things *paper.Things) (out []onSheet) {
	around, _ := things.Ground(marginM)
	sheets, used := calibrated(s), s.Reader.Plan().SheetsUsed()
	if len(sheets) == 1 {
		return []onSheet{{sheets[0], around}}
	}
	for _, sheet := range sheets {
		fit, err := s.Reader.CalibrationOf(sheet.ID)
		if err != nil || !used[sheet.ID] && shown(out, things) {
			continue
		}
		if g := common(around, extent(sheet, fit)); g.West < g.East && g.South < g.North && things.LieOn(g) {
			out = append(out, onSheet{sheet, g})
		}
	}
	if len(out) == 0 {
		out = []onSheet{{sheets[0], around}}
	} else if !shown(out, things) {
		out[0].ground = around
	}
	return out
}

// shown reports whether both ends of every leg lie on one of the maps.
func shown(list []onSheet, things *paper.Things) bool {
	for _, l := range things.Legs {
		for _, end := range []geodesy.Grid{l.From, l.To} {
			if !slices.ContainsFunc(list, func(m onSheet) bool { return m.ground.Holds(end) }) {
				return false
			}
		}
	}
	return true
}

// sheetFor is a sheet with its picture.
func sheetFor(s Source, sheet plan.Sheet, open func(plan.Sheet) (Picture, error)) (rectify.Sheet, error) {
	fit, err := s.Reader.CalibrationOf(sheet.ID)
	if err != nil {
		return rectify.Sheet{}, err
	}
	picture, err := open(sheet)
	if err != nil {
		return rectify.Sheet{}, &Unmapped{s.Reader.Plan().SheetName(sheet.ID), err}
	}
	return rectify.Sheet{
		Name: path.Base(strings.TrimPrefix(sheet.Picture, plan.EmbeddedPrefix)), Width: sheet.Width, Height: sheet.Height, Cut: picture.Cut, Grey: picture.Grey,
		System: s.Reader.System(), Calibration: fit, Verdict: s.Reader.Verdict(sheet.ID), FileCautions: sheet.FileCautions, DPI: sheet.DPI,
	}, nil
}

// extent is the rectangle around the corners of a sheet that have a position, on its grid.
func extent(s plan.Sheet, fit *calib.Calibration) paper.Ground {
	g := paper.Around(nil, 0)
	w, h := float64(s.Width), float64(s.Height)
	for _, at := range [...]calib.PicturePt{{}, {Col: w}, {Row: h}, {Col: w, Row: h}} {
		if x := fit.ToGrid(at); x.IsFinite() { // not so beyond the horizon of a photograph
			g = paper.Ground{West: math.Min(g.West, x.E), East: math.Max(g.East, x.E), South: math.Min(g.South, x.N), North: math.Max(g.North, x.N)}
		}
	}
	return g
}

// common is the ground that two rectangles share; one that is empty ends before it begins.
func common(a, b paper.Ground) paper.Ground {
	return paper.Ground{West: math.Max(a.West, b.West), East: math.Min(a.East, b.East), South: math.Max(a.South, b.South), North: math.Min(a.North, b.North)}
}
