package planfile

import "legwright/app/plan"

// The shapes of the file. Those of the plan and of a sheet keep unknown keys. A key
// with the tag need must be present: encoding/json would set 0 instead, which is a
// valid position.

type planShape struct {
	Format  string       `json:"format"`
	Version int          `json:"version"`
	Title   string       `json:"title"`
	Date    string       `json:"date,omitempty"`
	Party   *partyShape  `json:"party"`
	Sheets  []sheetShape `json:"sheets"`
	Marks   []markShape  `json:"marks"`
	Legs    []legShape   `json:"legs"`
	Sights  []sightShape `json:"sights"`
	Tracks  []trackShape `json:"tracks,omitempty"`
	extra   plan.Extra
}

type partyShape struct {
	Compass      *compassShape `json:"compass"`
	SpeedKmh     float64       `json:"speed_kmh"`
	RunSpeedKmh  float64       `json:"run_speed_kmh"`
	PacesPer100m float64       `json:"double_paces_per_100m"`
	PaceSigma    float64       `json:"pacing_sigma"`
}

type compassShape struct {
	Set      bool    `json:"housing_set"`
	SetToDeg float64 `json:"housing_set_to_deg"`
	SigmaDeg float64 `json:"sigma_deg"`
	Circle   string  `json:"circle"`
}

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
	Points       []pointShape    `json:"control_points"`
	World        []float64       `json:"given_matrix,omitempty"`
	WorldM       float64         `json:"place_sigma_m,omitempty"`
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
	LettersOf   string   `json:"letters_of_sheet,omitempty"`
	Cautions    string   `json:"cautions,omitempty"`
	SigmaM      float64  `json:"sigma_m"`
}

type markShape struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Position positionShape `json:"position"`
	Note     string        `json:"note,omitempty"`
	Import   string        `json:"import,omitempty"`
}

type endShape struct {
	Mark     string         `json:"mark,omitempty"`
	Letter   string         `json:"letter,omitempty"`
	Position *positionShape `json:"position,omitempty"`
}

type legShape struct {
	ID      string   `json:"id"`
	From    endShape `json:"from"`
	To      endShape `json:"to"`
	Name    string   `json:"name,omitempty"`
	TickOff string   `json:"tick_off,omitempty"`
	TooFar  string   `json:"too_far,omitempty"`
	Note    string   `json:"note,omitempty"`
	Import  string   `json:"import,omitempty"`
}

type sightShape struct {
	ID   string   `json:"id"`
	From endShape `json:"from"`
	To   endShape `json:"to"`
	Name string   `json:"name,omitempty"`
	Note string   `json:"note,omitempty"`
}

type trackShape struct {
	ID     string       `json:"id"`
	Name   string       `json:"name"`
	Hidden bool         `json:"hidden,omitempty"`
	Import string       `json:"import,omitempty"`
	Points [][2]float64 `json:"lat_lon_deg"`
}
