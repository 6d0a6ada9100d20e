package plan

import (
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ID names a sheet, mark, leg or sight within one plan. It is short, not
// empty, and never shown to people.
type ID string

// Extra holds the unknown keys of a plan or a sheet, as the text of one JSON
// object, or "". The plan
// carries it untouched from reading to writing.
type Extra string

// Origin says how a position came into the plan.
type Origin int

// The origins of a position.
const (
	Picked   Origin = iota // clicked on the sheet: keeps its picture point
	Typed                  // typed as a reference: keeps its text
	Imported               // read from an exchange file
)

// String names the origin: "picked", "typed" or "imported".
func (o Origin) String() string {
	switch o {
	case Picked:
		return "picked"
	case Typed:
		return "typed"
	case Imported:
		return "imported"
	}
	return "unknown"
}

// Position is a position on the ground, where it came from and how well it is known.
type Position struct {
	Grid   geodesy.Grid // metres
	Code   geodesy.Code // of the grid they are on
	Origin Origin

	At          calib.PicturePt // picked: column and row on the sheet
	PickSigmaPx float64         // picked: σ of the pointer per axis, picture pixels
	Sheet       ID              // picked: the sheet it was picked on; typed: see DerivedFromSheet

	Text    string  // typed: the text as it was typed
	SquareM float64 // typed: side of the reference's square, metres; 0 for plain numbers

	// LettersFrom is the sheet that the grid letters were inferred from, of a reference
	// typed without them: if that sheet is wrong the position is 100 km out. So is one
	// that was typed as a bearing and distance from there.
	LettersFrom ID

	// Cautions, in the text form of caution.Format, are those of the exchange file that
	// the position was imported from, or of the position that it was typed from as a
	// bearing and distance.
	Cautions string

	SigmaM float64 // own σ per axis in metres, without the calibration's share
}

// PickedAt returns the position of a point clicked on a calibrated sheet,
// with the pointer's σ in picture pixels.
func PickedAt(s Sheet, c *calib.Calibration, at calib.PicturePt, pickSigmaPx float64) Position {
	return Position{
		Grid: c.ToGrid(at), Code: s.Code, Origin: Picked,
		At: at, PickSigmaPx: pickSigmaPx, Sheet: s.ID,
		SigmaM: pickSigmaPx * c.MetresPerPixelAt(at),
	}
}

// TypedAs returns the position meant by a typed reference: the centre of its
// square with σ = side/√12 per axis, or the point itself with σ 0 where the
// reference has no square.
func TypedAs(text string, r geodesy.Ref) Position {
	g, sigma := r.Centre()
	p := Position{Grid: g, Origin: Typed, Text: text, SquareM: r.SquareM, SigmaM: sigma}
	if r.System != nil {
		p.Code = r.System.Code()
	}
	return p
}

// ImportedAt returns a position read from an exchange file, with its σ per
// axis in metres.
func ImportedAt(code geodesy.Code, g geodesy.Grid, sigmaM float64) Position {
	return Position{Grid: g, Code: code, Origin: Imported, SigmaM: sigmaM}
}

// DerivedFromSheet reports whether a position was typed as a bearing and a distance from
// a position that was picked on a sheet, or derived from it in turn: it is as right as
// that sheet, and moves with it.
func (p Position) DerivedFromSheet() bool { return p.Origin == Typed && p.Sheet != "" }

// Same reports whether two positions coincide: the same grid and
// coordinates that agree to a millimetre.
func (p Position) Same(q Position) bool {
	return p.Code == q.Code &&
		math.Abs(p.Grid.E-q.Grid.E) < 0.001 && math.Abs(p.Grid.N-q.Grid.N) < 0.001
}

// End is one end of a leg or sight: a mark, or a position of its own.
type End struct {
	Mark     ID       // where not empty, the mark's position rules
	Position Position // the end's own position; with a mark, the mark's as last known
	// Letter names an end without a mark, such as "C". Ends at one position share it. The
	// plan gives it when the end is added and keeps it from then on.
	Letter string
}

// inPlaceOf returns the end with the letter of the place where it is put, if an end of
// the plan has one there, and else with that of the end it takes the place of: the
// letter of a place stays, whoever is moved there.
func (e End) inPlaceOf(old End, p *Plan) End {
	if e.Mark != "" {
		return e
	}
	if letter := p.letterAt(e.Position); letter != "" && !e.Position.Same(old.Position) {
		e.Letter = letter
	} else if e.Letter == "" && old.Mark == "" {
		e.Letter = old.Letter
	}
	return e
}

// AtMark returns the end that stands on a mark.
func AtMark(m Mark) End { return End{Mark: m.ID, Position: m.Position} }

// AtPosition returns the end with a position of its own.
func AtPosition(p Position) End { return End{Position: p} }

// Same reports whether two ends are joined: the same mark, or no mark and the
// same position.
func (e End) Same(f End) bool {
	if e.Mark != "" || f.Mark != "" {
		return e.Mark == f.Mark
	}
	return e.Position.Same(f.Position)
}
