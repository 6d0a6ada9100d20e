package leg

import (
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// Reader reads legs on one plan: its grid, its calibrations, its date and its
// compass are prepared once, so that a reading is cheap enough for every
// movement of the pointer. It is immutable and safe for concurrent use.
type Reader struct {
	p       *plan.Plan
	date    plan.Date
	compass plan.Compass
	model   *terrain.Model            // nil without terrain
	main    *Sighter                  // on the grid of the plan's sheets; nil while none has one
	grids   map[geodesy.Code]*Sighter // of every grid that the plan names
	sheets  []calibrated
	orphan  *calibrated // stands for sheets that are no longer in the plan
	rows    *rows
	hazards *hazards
	judged  *judged
	spare   atomic.Pointer[fitted] // made last by Fit
	waits   bool                   // some sheet is not judged; see Moving
	err     error                  // of the plan's grid, given for each reading
}

// calibrated is one sheet with its calibration and its cautions.
type calibrated struct {
	fitted
	id       plan.ID
	code     geodesy.Code
	cautions []caution.Caution

	name         string
	ground       geodesy.Grid  // in its middle, where it is calibrated
	letters      caution.Grade // of the caution on grid letters that were inferred from it
	lettersWords string        // why
}

// NewReader prepares readings on a plan. A sheet without a calibration is no
// error: legs between typed positions can still be read. The error is that of
// a grid the program does not know.
func NewReader(p *plan.Plan) (*Reader, error) { return new(Reader).For(p) }

// For is NewReader for an edited form of the reader's plan. Sheets that are the same
// in both are not fitted again, which takes tens of milliseconds with hundreds of
// control points. After an error every reading of the new reader returns that error.
func (r *Reader) For(p *plan.Plan) (*Reader, error) { return r.next(p, judging{}) }

// ForUntil is For that gives up judging once stop reports true: what is not judged then
// waits, as in Moving. stop is called on the same goroutine.
func (r *Reader) ForUntil(stop func() bool, p *plan.Plan) (*Reader, error) {
	return r.next(p, judging{stop: stop})
}

// judging says how the sheets of a new reader are judged.
type judging struct {
	moving bool        // as Moving does
	stop   func() bool // see ForUntil; nil never stops
}

// next is For, ForUntil or Moving.
func (r *Reader) next(p *plan.Plan, how judging, held ...plan.ID) (*Reader, error) {
	return r.nextOver(r.model, p, how, held...)
}

// nextOver is next with a height model.
func (r *Reader) nextOver(m *terrain.Model, p *plan.Plan, how judging, held ...plan.ID) (*Reader, error) {
	next := &Reader{p: p, date: p.Date, compass: p.Party.Compass, model: m, rows: new(rows), hazards: new(hazards)}
	alike := r.model == m || !slices.ContainsFunc(p.Sheets, restsOnHeights)
	if next.judged = new(judged); alike && sameSheets(r.p, p) && (how.moving || !r.waits) {
		next.judged = r.judged
	}
	next.orphan = &calibrated{cautions: goneCautions()}
	for _, s := range p.Sheets {
		sheet := calibrated{id: s.ID, code: s.Code, name: p.SheetName(s.ID)}
		if known := r.sheetByID(s.ID); known != nil && slices.Contains(held, s.ID) {
			sheet.fitted = known.fitted
		} else {
			sheet.fitted = r.fit(s)
		}
		if c := sheet.c; c != nil {
			sheet.ground = c.ToGrid(calib.PicturePt{Col: float64(s.Width) / 2, Row: float64(s.Height) / 2})
		}
		next.sheets = append(next.sheets, sheet)
	}
	next.err = next.resolve(r)
	for i, v := range next.judgedAfter(r, how) {
		s := &next.sheets[i]
		next.waits = next.waits || v.Waits
		s.cautions = sheetCautions(p.Sheets[i], s.c, v)
		s.lettersWords, s.letters = lettersGrade(s.c, v)
		if len(p.Sheets) > 1 {
			s.cautions = aboutSheet(s.name, s.cautions)
		}
	}
	if next.err != nil {
		return next, next.err
	}
	if r.readsAlike(next) && r.main != nil && !slices.ContainsFunc(r.p.KindsApart(p), isDrawnGround) {
		next.hazards = r.hazards
	}
	if r.rowsAlike(next) {
		next.rows = r.rows
		return next, nil
	}
	next.rows.before = r.grounds(next)
	if r.readsAlike(next) {
		next.rows.known.Store(r.rows.known.Load())
	}
	return next, nil
}

// isDrawnGround reports whether things of a kind are hazards or areas of ground.
func isDrawnGround(k plan.Kind) bool { return k == plan.OfHazard || k == plan.OfArea }

// resolve prepares the grids that the plan names, and takes known ones from old.
// The error is that of the sheets' grid; an error of another grid comes up again at
// each reading from it.
func (r *Reader) resolve(old *Reader) error {
	r.grids = map[geodesy.Code]*Sighter{}
	for _, code := range r.p.Grids() {
		sys, err := old.SystemOf(code)
		if err != nil && code == r.p.Code() {
			return fmt.Errorf("the sheet's grid: %w", err)
		}
		if err == nil {
			r.grids[code] = NewSighter(sys, r.date, r.compass)
		}
	}
	r.main = r.grids[r.p.Code()]
	return nil
}

// SystemOf returns the grid with a code. The plan's own grids were looked up when
// the reader was made. The errors are those of geodesy.Lookup.
func (r *Reader) SystemOf(code geodesy.Code) (*geodesy.System, error) {
	if s, ok := r.grids[code]; ok {
		return s.sys, nil
	}
	return geodesy.Lookup(code)
}

// SystemFor returns the grid that a position is read on: the grid of the plan's
// sheets or, if they have none, the position's own.
func (r *Reader) SystemFor(pos plan.Position) (*geodesy.System, error) {
	if r.main != nil {
		return r.main.sys, nil
	}
	return r.SystemOf(pos.Code)
}

// fitted is a calibration and the sheet that it is of.
type fitted struct {
	of  plan.Sheet
	c   *calib.Calibration // nil where uncalibrated
	err error
}

// Fit returns the calibration of a sheet: the reader's own where that sheet is the same.
// Another one is fitted once for all who ask for it in one act, such as the plan that an
// edit makes and the reader of that plan.
func (r *Reader) Fit(s plan.Sheet) (*calib.Calibration, error) {
	f := r.fit(s)
	return f.c, f.err
}

func (r *Reader) fit(s plan.Sheet) fitted {
	if known := r.sheetByID(s.ID); known != nil && sameFit(known.of, s) {
		return known.fitted
	}
	if last := r.spare.Load(); last != nil && sameFit(last.of, s) {
		return *last
	}
	c, err := s.Calibration()
	r.spare.Store(&fitted{s, c, err})
	return fitted{s, c, err}
}

// sameFit reports whether two sheets differ in nothing but what checks them.
func sameFit(a, b plan.Sheet) bool {
	a.Evidence, a.SlipChosen, a.FileCautions = b.Evidence, b.SlipChosen, b.FileCautions
	return a.Same(b)
}

// Plan returns the plan the reader was made from.
func (r *Reader) Plan() *plan.Plan { return r.p }

// System returns the grid of the plan's sheets, or nil while none is named.
func (r *Reader) System() *geodesy.System {
	if r.main == nil {
		return nil
	}
	return r.main.sys
}

// CalibrationOf returns the calibration of a sheet. The error is
// plan.ErrUncalibrated, also for a sheet that is not in the plan, or that of
// the fit.
func (r *Reader) CalibrationOf(sheet plan.ID) (*calib.Calibration, error) {
	if s := r.sheetByID(sheet); s != nil {
		return s.c, s.err
	}
	return nil, plan.ErrUncalibrated
}

// Calibration returns the calibration of the first sheet, as CalibrationOf.
func (r *Reader) Calibration() (*calib.Calibration, error) {
	if len(r.sheets) == 0 {
		return nil, plan.ErrUncalibrated
	}
	return r.sheets[0].c, r.sheets[0].err
}

// SheetCautions returns what speaks against everything picked on the plan's
// sheets: of its one sheet, or of several those that something was picked on,
// and of one that is no longer in the plan.
func (r *Reader) SheetCautions() []caution.Caution {
	used, gives := r.p.SheetsUsed(), r.p.SheetsGivingLetters()
	var out []caution.Caution
	for _, s := range r.sheets {
		if used[s.id] || gives[s.id] || len(r.sheets) == 1 {
			out = append(out, s.cautions...)
			delete(used, s.id)
		}
	}
	if len(used) > 0 {
		out = append(out, r.orphan.cautions...)
	}
	return out
}

// CautionsOfSheet returns what speaks against everything picked on a sheet, also
// of one that is no longer in the plan. Do not write into the slice.
func (r *Reader) CautionsOfSheet(id plan.ID) []caution.Caution {
	if s := r.sheetByID(id); s != nil {
		return s.cautions
	}
	return r.orphan.cautions
}

// Read reads from one position to another. Errors: ErrNoBearing, and those of
// a grid or a position that cannot be computed.
func (r *Reader) Read(from, to plan.Position) (Reading, error) {
	s, err := r.sighterFor(from)
	if err != nil {
		return Reading{}, err
	}
	a, err := r.position(s.sys, from)
	if err != nil {
		return Reading{}, err
	}
	b, err := r.position(s.sys, to)
	if err != nil {
		return Reading{}, err
	}
	cov := joint(a, b)
	out, err := s.read(a.grid, b.grid, &cov, slices.Concat(sheetsOf(a, b), outsideCaution(anEnd, a, b), r.lettersCautions(anEnd, a, b), importedCautions(anEnd, a, b)))
	if err != nil {
		return Reading{}, err
	}
	out.FromRef, out.ToRef = reference(s.sys, a, out.FromSigmaM), reference(s.sys, b, out.ToSigmaM)
	return out, nil
}

// sighterFor returns the sighter of the sheet's grid, or without one that of
// the position's own grid.
func (r *Reader) sighterFor(p plan.Position) (*Sighter, error) {
	if r.err != nil {
		return nil, r.err
	}
	if r.main != nil {
		return r.main, nil
	}
	if s, ok := r.grids[p.Code]; ok {
		return s, nil
	}
	sys, err := geodesy.Lookup(p.Code)
	if err != nil {
		return nil, err
	}
	return NewSighter(sys, r.date, r.compass), nil
}

// Convert converts a position to another grid by way of WGS 84, and returns the σ
// per axis in metres of that conversion. Errors are those of SystemOf, and of a
// position that cannot be computed.
func (r *Reader) Convert(p plan.Position, sys *geodesy.System) (geodesy.Grid, float64, error) {
	if p.Code == sys.Code() {
		return p.Grid, 0, nil
	}
	own, err := r.SystemOf(p.Code)
	if err != nil {
		return geodesy.Grid{}, 0, err
	}
	wgs, up, err := own.ToWGS84(p.Grid)
	if err != nil {
		return geodesy.Grid{}, 0, err
	}
	moved, _, down, err := sys.FromWGS84(wgs)
	return moved, math.Hypot(up.SigmaM, down.SigmaM), err
}

func (r *Reader) sheetOf(p plan.Position) *calibrated {
	if p.Origin != plan.Picked && !p.DerivedFromSheet() {
		return nil
	}
	if s := r.sheetByID(p.Sheet); s != nil {
		return s
	}
	return r.orphan
}

func (r *Reader) sheetByID(id plan.ID) *calibrated {
	for i := range r.sheets {
		if r.sheets[i].id == id {
			return &r.sheets[i]
		}
	}
	return nil
}
