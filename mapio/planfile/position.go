package planfile

import (
	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

type positionShape struct {
	EPSG        int      `json:"epsg"`
	Definition  string   `json:"definition,omitempty"`
	E           float64  `json:"easting_m" need:"yes"`
	N           float64  `json:"northing_m" need:"yes"`
	Origin      string   `json:"origin"`
	Sheet       string   `json:"sheet,omitempty"`
	Col         *float64 `json:"col,omitempty"`
	Row         *float64 `json:"row,omitempty"`
	PickSigmaPx float64  `json:"pick_sigma_px,omitempty"`
	Text        string   `json:"text,omitempty"`
	SquareM     float64  `json:"square_m,omitempty"`
	LettersFrom string   `json:"letters_from_sheet,omitempty"`
	Cautions    string   `json:"cautions,omitempty"`
	SigmaM      float64  `json:"sigma_m"`
}

// definition is what the file says of a grid that has no EPSG code.
func definition(c geodesy.Code) string {
	if c.Defined() {
		return string(c)
	}
	return ""
}

func positionToShape(p plan.Position) positionShape {
	out := positionShape{
		EPSG: p.Code.EPSG(), Definition: definition(p.Code), E: p.Grid.E, N: p.Grid.N, Origin: p.Origin.String(), Sheet: string(p.Sheet),
		PickSigmaPx: p.PickSigmaPx, Text: p.Text, SquareM: p.SquareM, LettersFrom: string(p.LettersFrom), Cautions: p.Cautions, SigmaM: p.SigmaM,
	}
	if p.Origin == plan.Picked {
		out.Col, out.Row = &p.At.Col, &p.At.Row
	}
	return out
}

func (r *reader) position(s positionShape) plan.Position {
	p := plan.Position{
		Grid: geodesy.Grid{E: s.E, N: s.N}, Code: r.code(s.EPSG, s.Definition), Origin: r.origin(s.Origin), Sheet: plan.ID(s.Sheet),
		PickSigmaPx: s.PickSigmaPx, Text: r.line("reference", s.Text), SquareM: s.SquareM, LettersFrom: plan.ID(s.LettersFrom), Cautions: r.line("cautions", s.Cautions), SigmaM: s.SigmaM,
	}
	if p.Origin == plan.Picked {
		if s.Col == nil || s.Row == nil {
			r.fail("a picked position has no picture point")
			return p
		}
		p.At = calib.PicturePt{Col: *s.Col, Row: *s.Row}
	}
	if p.Origin == plan.Typed && p.SquareM > 0 && p.LettersFrom == "" && p.Cautions == "" && plan.LettersInferred(p.Text, p.Code, p.Grid) {
		p.Cautions = caution.Format([]caution.Caution{caution.Of(caution.LettersAstray)})
	}
	return p
}

func (r *reader) origin(text string) plan.Origin {
	for _, o := range []plan.Origin{plan.Picked, plan.Typed, plan.Imported} {
		if o.String() == text {
			return o
		}
	}
	r.fail(`a position has the unknown origin %q: it must be "picked", "typed" or "imported"`, text)
	return plan.Typed
}

// grid is a grid as a file describes it.
type grid struct {
	epsg       int
	definition string
}

// code returns the code of a grid. Thousands of positions repeat the definition of
// their grid, so each definition is parsed once.
func (r *reader) code(epsg int, definition string) geodesy.Code {
	if definition == "" {
		return geodesy.EPSG(epsg)
	}
	key := grid{epsg, definition}
	code, known := r.grids[key]
	if !known {
		code = r.define(epsg, definition)
		r.grids[key] = code
	}
	return code
}

// define reads the definition of a grid, which must agree with the code beside it.
func (r *reader) define(epsg int, definition string) geodesy.Code {
	sys, err := geodesy.Define(definition)
	switch {
	case err != nil:
		r.fail("the definition of a grid: %v", err)
		return ""
	case epsg != 0 && sys.EPSG() != epsg:
		r.fail("a grid has the code %d and the definition of another grid", epsg)
	}
	return sys.Code()
}
