package headless

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"legwright/app/calib"
	"legwright/mapio/scan"
)

// atFlag collects points of the picture, "col,row".
type atFlag []calib.PicturePt

func (a *atFlag) String() string { return "" }

func (a *atFlag) Set(text string) error {
	colText, rowText, ok := strings.Cut(text, ",")
	col, errCol := parseNumber([]byte(strings.TrimSpace(colText)))
	row, errRow := parseNumber([]byte(strings.TrimSpace(rowText)))
	if !ok || errCol != nil || errRow != nil {
		return fmt.Errorf("give a column and a row with a comma between them, such as 1200.5,830")
	}
	*a = append(*a, calib.PicturePt{Col: col, Row: row})
	return nil
}

// mediumFlag is how the picture was made; if it is not given, its file decides.
type mediumFlag struct {
	medium calib.Medium
	given  bool
}

func (f *mediumFlag) String() string { return "" }

func (f *mediumFlag) Set(text string) error {
	m, err := calib.ParseMedium(text)
	if err != nil {
		return fmt.Errorf("give scan, photograph or drawn")
	}
	f.medium, f.given = m, true
	return nil
}

// pictureFlags name a picture, and the page of a file that holds several.
type pictureFlags struct {
	picture string
	page    numberFlag
	dpi     numberFlag
}

// pageFlags declares the flags besides the picture's name.
func (q *pictureFlags) pageFlags(o *options, dpiHelp string) {
	q.page, q.dpi = numberFlag{min: 1, max: 1e6}, numberFlag{min: 1, max: 1e5}
	o.Var(&q.page, "page", "the page `N` of a PDF or TIFF, or the overlay of a KML file (default the first)")
	o.Var(&q.dpi, "dpi", dpiHelp)
}

// drawnDPI is the help of --dpi where it is for PDF pages alone.
const drawnDPI = "the resolution `N` at which a PDF page is drawn, in pixels per inch"

func (q *pictureFlags) flags(o *options) {
	o.StringVar(&q.picture, "picture", "", "the `FILE` of the picture")
	q.pageFlags(o, drawnDPI)
}

// drawing says which page of a document is the picture, and how finely it is drawn.
func (q *pictureFlags) drawing() scan.Options {
	o := scan.Options{Page: int(q.page.value)}
	if q.isPDF() {
		o.DPI = q.dpi.value
	}
	return o
}

// isPDF reports whether the picture is a page of a document: only that is drawn at a
// chosen resolution.
func (q *pictureFlags) isPDF() bool { return strings.EqualFold(filepath.Ext(q.picture), ".pdf") }

// need checks that a picture is named, and --page and --dpi against it.
func (q *pictureFlags) need() error {
	if q.picture == "" {
		return usagef("--picture is missing: name the file of the picture")
	}
	return q.checkPage()
}

func (q *pictureFlags) checkPage() error {
	switch {
	case q.page.value != math.Trunc(q.page.value):
		return usagef("--page %g is not a whole number", q.page.value)
	case !q.isPDF() && q.dpi.value > 0:
		return usagef("--dpi is for PDF pages: %s has its own resolution", filepath.Base(q.picture))
	}
	return nil
}

// sheetFlags describe the sheet that control points or printed lines calibrate.
type sheetFlags struct {
	grid   gridFlag
	datum  string
	medium mediumFlag
}

func (q *sheetFlags) flags(o *options) {
	o.Var(&q.grid, "grid", gridWords)
	o.StringVar(&q.datum, "datum", "wgs84", "the `DATUM` of latitudes and longitudes: wgs84, or own for the grid's own")
	o.Var(&q.medium, "medium", "the `MEDIUM`, how the picture was made: scan, photograph or drawn (by a program); if it is left out, the file decides")
}

func (q *sheetFlags) check() error {
	if q.datum != "own" && q.datum != "wgs84" {
		return usagef("--datum %q: give own or wgs84", q.datum)
	}
	return nil
}

func (q *sheetFlags) own() bool { return q.datum == "own" }

// as is a header with the medium that was given, if one was.
func (q *sheetFlags) as(h scan.Header) scan.Header {
	if q.medium.given {
		h.Medium = q.medium.medium
	}
	return h
}

// namingFlags name intersections of the printed grid.
type namingFlags struct {
	names  nameFlag
	square numberFlag
}

func (q *namingFlags) flags(o *options) {
	q.square = numberFlag{min: 1, max: 1e6}
	o.Var(&q.names, "name", "an intersection `COL,ROW=REF` of the printed grid and its reference; may be repeated")
	o.Var(&q.square, "square", "the side of a grid square in `METRES` (default: from two names)")
}

// resultFlags say what is asked of a calibration.
type resultFlags struct {
	at       atFlag
	evidence evidenceFlag
	asJSON   bool
}

func (q *resultFlags) flags(o *options) {
	o.Var(&q.evidence, "evidence", "a feature `SOURCE:COL,ROW=REF` to check the calibration with; SOURCE says where its reference comes from: margin, list, receiver, sheet, file or own-grid; may be repeated")
	o.Var(&q.at, "at", "a point `COL,ROW` of the picture to convert; may be repeated")
	o.BoolVar(&q.asJSON, "json", false, "write JSON")
}
