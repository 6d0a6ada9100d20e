package session

import (
	"errors"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// Picture is the picture of a map as it was opened.
type Picture struct {
	Path          string       // absolute
	Page          plan.Page    // of a document; zero for a file that is a single picture
	Width, Height int          // pixels, as shown
	SHA256        string       // of the file, 64 hexadecimal digits
	DPI           float64      // pixels per inch; 0 where the file does not say
	Medium        calib.Medium // how the picture came about
	Focal         float64      // of the camera, in diagonals of the picture; 0 where unknown
}

// OpenSheet puts a picture in the place of the sheet that is shown. A picture that is
// a sheet of the plan already, by its SHA-256 and page, keeps its calibration under
// the new path and is shown, and the sheet that was shown stays. Another picture
// begins uncalibrated, and what was picked on the old sheet keeps its coordinates.
// Another page of a document, or the same page drawn at another resolution, is
// another picture.
func (s *Session) OpenSheet(pic Picture) error {
	s.settle()
	p := s.Plan()
	if known, ok := p.SheetOf(pic.SHA256, pic.Page); ok {
		return s.showFound(known.ID, pic)
	}
	fresh := s.fresh(pic)
	old, ok := s.Sheet()
	if !ok {
		return s.takeNew("open sheet", p.SetSheet(fresh), fresh.ID)
	}
	if len(p.Sheets) == 1 {
		fresh.Code = "" // the only sheet's grid goes with it
	}
	return s.takeNew("open sheet", p.ReplaceSheet(old.ID, fresh), fresh.ID)
}

// Relink says where the picture of the sheet that is shown is now, and keeps the
// calibration. Only the path, the size and the SHA-256 of the picture count. With
// another SHA-256 the sheet loses its evidence: ask first.
func (s *Session) Relink(pic Picture) error {
	s.settle()
	sheet, ok := s.Sheet()
	if !ok {
		return ErrNoSheet
	}
	return s.relink(sheet, pic)
}

func (s *Session) relink(sheet plan.Sheet, pic Picture) error {
	next := sheet
	next.Picture, next.Width, next.Height = pic.Path, pic.Width, pic.Height
	if next.SHA256 != pic.SHA256 {
		next.SHA256, next.Evidence = pic.SHA256, nil
	}
	if next.Picture == sheet.Picture && next.Width == sheet.Width && next.Height == sheet.Height && next.SHA256 == sheet.SHA256 {
		return nil
	}
	return s.do("find picture", "", s.Plan().SetSheet(next))
}

// Redraw takes the page of the sheet that is shown as it was drawn at another
// resolution. Calibration, evidence and positions stay where they are on the ground.
// The error is a *Refused for another picture or page, or an *plan.Invalid.
func (s *Session) Redraw(pic Picture) error {
	s.settle()
	sheet, ok := s.Sheet()
	switch {
	case !ok:
		return ErrNoSheet
	case pic.SHA256 != sheet.SHA256 || pic.Page.Number != sheet.Page.Number:
		return refuse("this is not the picture of the sheet shown: open it as another sheet")
	case pic.Page == sheet.Page && pic.Width == sheet.Width && pic.Height == sheet.Height && pic.DPI == sheet.DPI:
		return nil
	}
	return s.do("change the resolution", "", s.Plan().RedrawSheet(sheet.ID, pic.Page, pic.Width, pic.Height, pic.DPI))
}

// PicturePath returns the path of the picture of the sheet shown, or ""
// without a sheet.
func (s *Session) PicturePath() string {
	sheet, _ := s.Sheet()
	return sheet.Picture
}

// editSheet replaces the sheet shown by what f makes of it.
func (s *Session) editSheet(name, key string, f func(plan.Sheet) (plan.Sheet, error)) error {
	if s.loose != nil && !(s.moving() && s.hist.Merges(name, key)) {
		s.settle()
	}
	sheet, ok := s.Sheet()
	if !ok {
		return ErrNoSheet
	}
	next, err := f(sheet)
	if err != nil {
		return err
	}
	if code := s.Plan().Code(); next.Code != code && next.Code.Alike(code) {
		next.Code = code // the same grid by another name
	}
	if err := s.oneGrid(next); err != nil {
		return err
	}
	if err := unusable(next); err != nil {
		return err
	}
	return s.do(name, key, s.withSheet(next))
}

// unusable returns the error of control points that contradict each other so
// plainly that they must be corrected before they are kept.
func unusable(sheet plan.Sheet) error {
	err := sheet.CheckPoints()
	if sheet.ByMatrix() {
		_, err = sheet.Calibration()
	}
	var (
		same  *calib.SameReference
		close *calib.Coincident
		bad   *calib.BadPoint
		unfit *calib.Unfit
	)
	switch {
	case errors.As(err, &same), errors.As(err, &close), errors.As(err, &bad):
		return err
	case sheet.ByMatrix() && errors.As(err, &unfit):
		return err
	}
	return nil
}

// SetGrid names the grid of the plan's sheets by its code. References that
// were typed are read again on it. The error is a *geodesy.UnknownSystem, or
// *Refused for a control point whose reference is of another grid: taken over
// as bare numbers it would put the sheet elsewhere.
func (s *Session) SetGrid(code geodesy.Code) error {
	s.settle()
	sys, err := geodesy.Lookup(code)
	if err != nil {
		return err
	}
	shown, ok := s.Sheet()
	if !ok {
		return ErrNoSheet
	}
	next := s.Plan()
	for _, sheet := range s.Plan().Sheets {
		moved, err := onGrid(sheet, sys, s.nearOn(sheet, sys))
		if err == nil && sheet.ID != shown.ID && sheet.World != nil && sheet.Code != sys.Code() {
			err = refuse("its file places it on another grid")
		}
		if err == nil {
			err = unusable(moved)
		}
		if err != nil && sheet.ID != shown.ID {
			return refuse("all sheets of a plan must be on the same grid, but %s cannot be put on %s: %s", s.Plan().SheetName(sheet.ID), sys.Name(), err)
		}
		if err != nil {
			return err
		}
		next = next.SetSheet(moved)
	}
	return s.do("change grid", "", next)
}

// nearOn is nearOf on another grid.
func (s *Session) nearOn(sheet plan.Sheet, sys *geodesy.System) *geodesy.Grid {
	near := s.nearOf(sheet)
	if near == nil || sheet.Code == "" {
		return near
	}
	g, _, err := s.Reader().Convert(plan.Position{Code: sheet.Code, Grid: *near}, sys)
	if err != nil {
		return nil
	}
	return &g
}

// onGrid returns the sheet on another grid with its references read again. near is
// ground on that grid from which missing letters are inferred.
func onGrid(sheet plan.Sheet, sys *geodesy.System, near *geodesy.Grid) (plan.Sheet, error) {
	sheet.Code = sys.Code()
	for i, c := range sheet.Points {
		if c.Text == "" {
			continue
		}
		r, err := geodesy.ParseRef(c.Text, geodesy.RefContext{System: sys, Near: near})
		if err != nil || r.System != sys {
			return sheet, refuse("control point %d: %q is not a reference on %s. Change or delete the point first", i+1, c.Text, sys.Name())
		}
		c.Ref = r.Grid
		sheet = sheet.SetPoint(i, c)
	}
	for i, e := range sheet.Evidence { // the reader reads its text again on any grid
		if again, err := plan.ReadEvidence(e.Source, e.Text, sys, near); err == nil && e.Text != "" && e.Source != calib.FromSheet {
			again.At, again.SigmaPx = e.At, e.SigmaPx
			sheet.Evidence = slices.Clone(sheet.Evidence)
			sheet.Evidence[i] = again
		}
	}
	return sheet, nil
}

// SetMedium says how the sheet's picture came about, which says how far its
// paper may have stretched and bent.
func (s *Session) SetMedium(m calib.Medium) error {
	return s.editSheet("change the kind of picture", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Medium = m
		return sheet, nil
	})
}

// SetContour says how many metres apart the contours are that the sheet prints, 0 for
// unknown. The error is a *plan.Invalid.
func (s *Session) SetContour(intervalM float64) error {
	return s.editSheet("set the contour interval", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.Contour = intervalM
		return sheet, nil
	})
}

// TakeGeoref takes the calibration that the picture's own file, or a world file beside
// it, states: for pixels counted from the top-left corner, in metres of the grid with
// that code. sigmaM is the σ per axis in metres that the file states or that follows
// from it, 0 where nothing is known. cautions, in the text form of caution.Format, are
// what the file says against it: they come and go with it in one step. The sheet stays
// unchecked.
func (s *Session) TakeGeoref(matrix [6]float64, sigmaM float64, code geodesy.Code, cautions string) error {
	sys, err := geodesy.Lookup(code)
	if err != nil {
		return err
	}
	return s.editSheet("use the file's position", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.World, sheet.WorldM, sheet.WorldPx = &matrix, sigmaM, calib.DrawnSigmaPx(sheet.Page.DPI)
		sheet.Code, sheet.Points = sys.Code(), nil
		sheet.SlipChosen, sheet.FileCautions = false, cautions
		return sheet, nil
	})
}

// TakeGeorefPoints makes control points of those by which the picture's own
// file says where it lies, on the grid it names, with the medium that suits
// them, as one step. sigmaM is the σ per axis of the error that they share, in
// metres, 0 where there is none; for cautions see TakeGeoref. The error is that of an
// unknown grid, or of points that allow no fit; then nothing is taken.
func (s *Session) TakeGeorefPoints(points []calib.ControlPoint, sigmaM float64, code geodesy.Code, medium calib.Medium, cautions string) error {
	sys, err := geodesy.Lookup(code)
	if err != nil {
		return err
	}
	if _, err := calib.Fit(points, calib.Options{Medium: medium, SharedM: sigmaM}); err != nil {
		return err
	}
	return s.editSheet("use the file's points", "", func(sheet plan.Sheet) (plan.Sheet, error) {
		sheet.World, sheet.WorldM, sheet.WorldPx, sheet.Code, sheet.Points = nil, sigmaM, 0, sys.Code(), nil
		sheet.Medium, sheet.Focal = medium, 0
		sheet.SlipChosen, sheet.FileCautions = false, cautions // the slip goes with the points that were chosen from
		for _, p := range points {
			sheet = sheet.WithPoint(p)
		}
		return sheet, nil
	})
}

// Reference is a reference read for the sheet.
type Reference struct {
	Read   geodesy.Ref  // as it was read
	Grid   geodesy.Grid // its south-west corner on the sheet's grid
	Code   geodesy.Code // of the sheet's grid, or the one guessed
	ShiftM float64      // latitude and longitude: σ per axis of the datum shift

	GridGuessed     bool // the sheet had no grid: it was guessed from the reference
	LettersInferred bool // the grid letters were not typed: say so, and from which sheet

	LettersFrom plan.ID // the sheet that they were inferred from
}

// Centre returns the centre of the reference's square on the sheet's grid and
// its σ per axis in metres, with that of the datum shift.
func (r Reference) Centre() (geodesy.Grid, float64) {
	_, sigma := r.Read.Centre()
	half := r.Read.SquareM / 2
	return geodesy.Grid{E: r.Grid.E + half, N: r.Grid.N + half}, math.Hypot(sigma, r.ShiftM)
}

// lineSigma is the σ per axis in metres of a reference read at printed lines.
func (r Reference) lineSigma() float64 { return math.Hypot(r.Read.LineSigma(), r.ShiftM) }

// CheckReference reads a reference as it is typed, for the sheet's grid, or
// for the grid it names where the sheet has none yet. Nothing is changed.
// Errors: *geodesy.RefError, ErrNoGrid.
func (s *Session) CheckReference(text string) (Reference, error) {
	sheet, _ := s.Sheet()
	if sheet.Code == "" {
		sheet.Code = s.Plan().Code()
	}
	near, source := s.nearOf(sheet), sheet.ID
	for _, other := range s.Plan().Sheets { // panels of one map lie together
		if near == nil && other.Code == sheet.Code {
			near, source = s.nearOf(other), other.ID
		}
	}
	ref, err := s.readReference(text, sheet, near)
	if ref.LettersInferred {
		ref.LettersFrom = source
	}
	return ref, err
}

// readReference reads a reference for a sheet. near is ground from which grid letters
// that were not typed are inferred, or nil.
func (s *Session) readReference(text string, sheet plan.Sheet, near *geodesy.Grid) (Reference, error) {
	ctx := geodesy.RefContext{Near: near}
	if sheet.Code != "" {
		sys, err := s.Reader().SystemOf(sheet.Code)
		if err != nil {
			return Reference{}, err
		}
		ctx.System = sys
	}
	r, err := geodesy.ParseRef(text, ctx)
	if err != nil {
		return Reference{}, err
	}
	if r.System == nil {
		return Reference{}, ErrNoGrid
	}
	out := Reference{Read: r, Grid: r.Grid, Code: r.System.Code(), GridGuessed: ctx.System == nil, LettersInferred: !r.LettersGiven}
	if r.Kind == geodesy.RefLatLon {
		_, shift, err := r.System.ToWGS84(r.Grid)
		out.ShiftM = shift.SigmaM
		return out, err
	}
	return out, nil
}

// nearOf returns ground that a sheet of the plan shows, or nil. It uses the
// reader's calibration, because references are checked at every key and a fit to
// hundreds of points takes tens of milliseconds.
func (s *Session) nearOf(sheet plan.Sheet) *geodesy.Grid {
	if c, err := s.Reader().CalibrationOf(sheet.ID); err == nil {
		g := c.ToGrid(calib.PicturePt{Col: float64(sheet.Width) / 2, Row: float64(sheet.Height) / 2})
		return &g
	}
	if len(sheet.Points) > 0 {
		return &sheet.Points[0].Ref
	}
	return nil
}
