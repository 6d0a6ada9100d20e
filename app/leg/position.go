package leg

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// position is one of the plan, converted to the grid of the reading.
type position struct {
	pos   plan.Position
	grid  geodesy.Grid
	sheet *calibrated // that it was picked on or derived from
	moveM float64     // σ per axis of bringing it here from another grid
}

// itself is the subject of cautions about a position by itself.
const itself = "this position"

// CautionsOfMarks returns what speaks against the positions of the plan's marks and of
// others, each caution once and the gravest first.
func (r *Reader) CautionsOfMarks(others ...plan.Position) (out []caution.Caution) {
	for _, m := range r.Plan().Marks {
		others = append(others, m.Position)
	}
	for _, pos := range others {
		for _, c := range r.CautionsOf(pos) {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return caution.GravestFirst(out)
}

// CautionsOf returns what speaks against a position by itself, its reference and its
// latitude and longitude: the cautions of the sheet it was picked on or derived from,
// that it lies where that sheet's control points do not reach or where the grid is
// not meant for, and that the datum shift is coarse. Do not write into the slice.
func (r *Reader) CautionsOf(pos plan.Position) []caution.Caution {
	var out []caution.Caution
	at := position{pos: pos, grid: pos.Grid, sheet: r.sheetOf(pos)}
	if at.sheet != nil {
		out = append(append(out, at.sheet.cautions...), outsideCaution(itself, at)...)
	}
	out = append(append(out, r.lettersCautions(itself, at)...), importedCautions(itself, at)...)
	sys, err := r.SystemOf(pos.Code)
	if err != nil {
		return out
	}
	if own, _, err := sys.Unproject(pos.Grid); err != nil || !sys.Contains(own) {
		out = append(out, OutsideArea(itself, sys, own))
	}
	if _, shift, err := sys.ToWGS84(pos.Grid); err == nil {
		if c, ok := CoarseShift(shift); ok {
			out = append(out, c)
		}
	}
	return out
}

func (r *Reader) position(sys *geodesy.System, p plan.Position) (position, error) {
	out := position{pos: p, grid: p.Grid, sheet: r.sheetOf(p)}
	var err error
	out.grid, out.moveM, err = r.Convert(p, sys)
	return out, err
}

// known reports whether the position's covariance comes from a calibration.
func (p position) known() bool {
	return p.pos.Origin == plan.Picked && p.sheet != nil && p.sheet.c != nil
}

func (p position) cov() calib.Cov2 {
	c, move := p.own(), p.moveM*p.moveM
	return calib.Cov2{EE: c.EE + move, EN: c.EN, NN: c.NN + move}
}

// own is cov without the conversion from another grid.
func (p position) own() calib.Cov2 {
	if p.known() {
		return p.sheet.c.Covariance(p.pos.At, p.pos.PickSigmaPx)
	}
	return round(p.pos.SigmaM)
}

// Joint returns the joint covariance of two positions on the plan's grid, in m² and
// in the order E1, N1, E2, N2. Positions picked on one sheet share its
// calibration, and positions converted from one grid share the error of the
// conversion; all else is independent, as two sheets are: each was calibrated from
// points of its own. Errors are those of SystemFor, and of a position that cannot
// be converted.
func (r *Reader) Joint(a, b plan.Position) (calib.Cov4, error) {
	sys, err := r.SystemFor(a)
	if err != nil {
		return calib.Cov4{}, err
	}
	one, err := r.position(sys, a)
	if err != nil {
		return calib.Cov4{}, err
	}
	other, err := r.position(sys, b)
	if err != nil {
		return calib.Cov4{}, err
	}
	return joint(one, other), nil
}

// joint is Joint of two positions.
func joint(a, b position) calib.Cov4 {
	out := blocks(a.own(), b.own())
	if a.known() && a.sheet == b.sheet {
		out = a.sheet.c.Joint(a.pos.At, b.pos.At, a.pos.PickSigmaPx, b.pos.PickSigmaPx)
	}
	common := 0.0
	if a.pos.Code == b.pos.Code {
		common = a.moveM * b.moveM
	}
	for i := range 2 {
		out[i][i] += a.moveM * a.moveM
		out[i+2][i+2] += b.moveM * b.moveM
		out[i][i+2] += common
		out[i+2][i] += common
	}
	return out
}

// sheetsOf returns the cautions of the sheets the ends were picked on or derived from.
// Other ends that were typed or imported owe the sheet nothing: their coordinates are on the
// grid itself, so a leg between two of them is right whatever the calibration
// is, and carries no caution of it.
func sheetsOf(a, b position) []caution.Caution {
	switch {
	case a.sheet == nil && b.sheet == nil:
		return nil
	case a.sheet == nil || a.sheet == b.sheet:
		return b.sheet.cautions
	case b.sheet == nil:
		return a.sheet.cautions
	}
	return slices.Concat(a.sheet.cautions, b.sheet.cautions)
}

// figures is how many digits of the position's grid reference are known: those it was
// typed with, otherwise those that its σ supports, eight at most.
func (p position) figures(sigmaM float64) int {
	if p.pos.Origin == plan.Typed && p.pos.SquareM > 0 {
		return geodesy.FiguresOf(p.pos.SquareM)
	}
	return 2 * min(max(5-units.Place(bounded(sigmaM), 1), 1), 4)
}

// bounded is a σ in metres, an earth's radius where nothing is known, as beyond the
// horizon of a photograph.
func bounded(sigmaM float64) float64 {
	if math.IsNaN(sigmaM) {
		return earthM
	}
	return math.Min(sigmaM, earthM)
}

// earthM is the radius of the earth, rounded.
const earthM = 6.4e6

// Reference writes a position's grid reference on the plan's grid with no digit
// that is not known. Errors are those of a grid or a position that cannot be
// computed, and of a position off the lettered squares.
func (r *Reader) Reference(pos plan.Position) (string, error) {
	sys, p, err := r.positionOf(pos)
	if err != nil {
		return "", err
	}
	return sys.FormatRef(p.grid, p.figures(p.sigmaM()))
}

// LatLon writes a position's latitude and longitude on WGS 84 with no digit that is
// not known, and with its ± (95 %) where the datum shift is coarse. Errors are those
// of Reference.
func (r *Reader) LatLon(pos plan.Position) (string, error) {
	sys, p, err := r.positionOf(pos)
	if err != nil {
		return "", err
	}
	at, shift, err := sys.ToWGS84(p.grid)
	if err != nil {
		return "", err
	}
	if shift.Unknown {
		return geodesy.FormatLatLonTo(at, 3) + " ± hundreds of m", nil
	}
	sigmaM := bounded(math.Hypot(p.sigmaM(), shift.SigmaM))
	text := geodesy.FormatLatLonTo(at, -units.Place(sigmaM/metresPerDegree, -6))
	if shift.SigmaM > coarseShiftM {
		text += fmt.Sprintf(" ± %.0f m", math.Ceil(2*sigmaM))
	}
	return text, nil
}

// positionOf converts a position to the grid that it is read on.
func (r *Reader) positionOf(pos plan.Position) (*geodesy.System, position, error) {
	sys, err := r.SystemFor(pos)
	if err != nil {
		return nil, position{}, err
	}
	p, err := r.position(sys, pos)
	return sys, p, err
}

// metresPerDegree is the length of a degree of latitude, within 1 %.
const metresPerDegree = 111_000

// sigmaM is the position's σ per axis in metres.
func (p position) sigmaM() float64 {
	c := p.cov()
	return math.Sqrt(math.Max((c.EE+c.NN)/2, 0))
}

// reference is Reader.Reference for an end of a reading; it writes plain metres off
// the lettered squares.
func reference(sys *geodesy.System, p position, sigmaM float64) string {
	ref, err := sys.FormatRef(p.grid, p.figures(sigmaM))
	if err != nil {
		return fmt.Sprintf("%.0f %.0f", p.grid.E, p.grid.N)
	}
	return ref
}
