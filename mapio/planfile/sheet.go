package planfile

import (
	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

type sheetShape struct {
	ID           string          `json:"id"`
	Picture      string          `json:"picture"`
	Width        int             `json:"width_px"`
	Height       int             `json:"height_px"`
	SHA256       string          `json:"sha256"`
	DPI          float64         `json:"dpi,omitempty"`
	Medium       string          `json:"medium,omitempty"`
	Focal        float64         `json:"focal_diagonals,omitempty"`
	Page         int             `json:"page,omitempty"`
	PageDPI      float64         `json:"page_dpi,omitempty"`
	EPSG         int             `json:"epsg"`
	Definition   string          `json:"definition,omitempty"`
	ContourM     float64         `json:"contour_interval_m,omitempty"`
	Points       []pointShape    `json:"control_points"`
	World        []float64       `json:"given_matrix,omitempty"`
	WorldM       float64         `json:"position_sigma_m,omitempty"`
	WorldPx      float64         `json:"position_sigma_px,omitempty"`
	Evidence     []evidenceShape `json:"evidence,omitempty"`
	SlipChosen   bool            `json:"slip_chosen,omitempty"`
	WasChecked   bool            `json:"was_checked,omitempty"`
	FileCautions string          `json:"file_cautions,omitempty"`
	extra        plan.Extra
}

type pointShape struct {
	Col       float64 `json:"col" need:"yes"`
	Row       float64 `json:"row" need:"yes"`
	E         float64 `json:"easting_m" need:"yes"`
	N         float64 `json:"northing_m" need:"yes"`
	Text      string  `json:"reference"`
	SigmaPx   float64 `json:"sigma_px,omitempty"`
	SigmaRefM float64 `json:"reference_sigma_m,omitempty"`
	Source    string  `json:"source,omitempty"` // absent: typed; "file" or "found"
}

// evidenceShape is a position whose reference is known without the control points.
type evidenceShape struct {
	Source       string   `json:"source"`
	Col          float64  `json:"col" need:"yes"`
	Row          float64  `json:"row" need:"yes"`
	SigmaPx      float64  `json:"sigma_px,omitempty"`
	Text         string   `json:"reference,omitempty"`
	LatLon       bool     `json:"lat_lon,omitempty"`
	E            float64  `json:"easting_m" need:"yes"`
	N            float64  `json:"northing_m" need:"yes"`
	SigmaRefM    float64  `json:"reference_sigma_m,omitempty"`
	Sheet        string   `json:"sheet,omitempty"`
	SheetCol     *float64 `json:"sheet_col,omitempty"`
	SheetRow     *float64 `json:"sheet_row,omitempty"`
	SheetSigmaPx float64  `json:"sheet_sigma_px,omitempty"`
	SquareM      float64  `json:"square_m,omitempty"`
}

func sheetToShape(s plan.Sheet) sheetShape {
	out := sheetShape{
		ID: string(s.ID), Picture: s.Picture, Width: s.Width, Height: s.Height, SHA256: s.SHA256, DPI: s.DPI, Focal: s.Focal, Page: s.Page.Number, PageDPI: s.Page.DPI, ContourM: s.Contour,
		EPSG: s.Code.EPSG(), Definition: definition(s.Code), Medium: s.Medium.String(), Points: each(s.Points, pointToShape), extra: s.Extra,
	}
	if s.World != nil {
		out.World = s.World[:]
	}
	out.WorldM, out.WorldPx, out.SlipChosen, out.WasChecked, out.FileCautions = s.WorldM, s.WorldPx, s.SlipChosen, s.WasChecked, s.FileCautions
	if len(s.Evidence) > 0 {
		out.Evidence = each(s.Evidence, evidenceToShape)
	}
	return out
}

func evidenceToShape(e calib.Evidence) evidenceShape {
	out := evidenceShape{
		Source: string(e.Source), Col: e.At.Col, Row: e.At.Row, SigmaPx: e.SigmaPx, Text: e.Text, LatLon: e.LatLon,
		E: e.Ref.E, N: e.Ref.N, SigmaRefM: e.SigmaRefM, Sheet: e.Sheet, SheetSigmaPx: e.SheetSigmaPx, SquareM: e.SquareM,
	}
	if e.Source == calib.FromSheet {
		out.SheetCol, out.SheetRow = &e.SheetAt.Col, &e.SheetAt.Row
	}
	return out
}

func pointToShape(c calib.ControlPoint) pointShape {
	return pointShape{
		Col: c.At.Col, Row: c.At.Row, E: c.Ref.E, N: c.Ref.N, Text: c.Text, SigmaPx: c.SigmaPx, SigmaRefM: c.SigmaRefM, Source: string(c.Source),
	}
}

func (r *reader) sheet(s sheetShape) plan.Sheet {
	out := plan.Sheet{
		ID: plan.ID(s.ID), Picture: s.Picture, Width: s.Width, Height: s.Height, SHA256: s.SHA256, DPI: s.DPI, Focal: s.Focal,
		Page: plan.Page{Number: s.Page, DPI: s.PageDPI}, Contour: s.ContourM,
		Code: r.code(s.EPSG, s.Definition), Medium: r.medium(s.Medium), World: r.world(s.World), WorldM: s.WorldM, WorldPx: s.WorldPx, Points: list(s.Points, r.point), Extra: s.extra,
		Evidence: list(s.Evidence, r.evidence), SlipChosen: s.SlipChosen, WasChecked: s.WasChecked, FileCautions: r.line("caution", s.FileCautions),
	}
	return out
}

func (r *reader) evidence(s evidenceShape) calib.Evidence {
	out := calib.Evidence{
		Source: calib.EvidenceSource(s.Source), At: calib.PicturePt{Col: s.Col, Row: s.Row}, SigmaPx: s.SigmaPx,
		Text: r.line("reference of a check", s.Text), LatLon: s.LatLon, Ref: geodesy.Grid{E: s.E, N: s.N}, SigmaRefM: s.SigmaRefM,
		Sheet: s.Sheet, SheetSigmaPx: s.SheetSigmaPx, SquareM: s.SquareM,
	}
	if s.SheetCol != nil {
		out.SheetAt.Col = *s.SheetCol
	}
	if s.SheetRow != nil {
		out.SheetAt.Row = *s.SheetRow
	}
	return out
}

func (r *reader) point(c pointShape) calib.ControlPoint {
	return calib.ControlPoint{
		At: calib.PicturePt{Col: c.Col, Row: c.Row}, Ref: geodesy.Grid{E: c.E, N: c.N},
		Text: r.line("reference", c.Text), SigmaPx: c.SigmaPx, SigmaRefM: c.SigmaRefM, Source: calib.PointSource(c.Source),
	}
}

func (r *reader) medium(text string) calib.Medium {
	if text == "" {
		return calib.Scan
	}
	m, err := calib.ParseMedium(text)
	if err != nil {
		r.fail("%v", err)
	}
	return m
}

func (r *reader) world(m []float64) *[6]float64 {
	if len(m) == 0 {
		return nil
	}
	if len(m) != 6 {
		r.fail("a given matrix has %d numbers but needs 6", len(m))
		return nil
	}
	return (*[6]float64)(m)
}
