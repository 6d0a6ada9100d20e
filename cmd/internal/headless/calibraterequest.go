package headless

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"legwright/app/calib"
	"legwright/mapio/scan"
)

// atFlag collects places of the picture, "col,row".
type atFlag []calib.PicturePt

func (a *atFlag) String() string { return "" }

func (a *atFlag) Set(text string) error {
	colText, rowText, ok := strings.Cut(text, ",")
	col, errCol := parseNumber([]byte(strings.TrimSpace(colText)))
	row, errRow := parseNumber([]byte(strings.TrimSpace(rowText)))
	if !ok || errCol != nil || errRow != nil {
		return fmt.Errorf("want a column and a row with a comma between, such as 1200.5,830")
	}
	*a = append(*a, calib.PicturePt{Col: col, Row: row})
	return nil
}

// mediumFlag is how the picture came about; not given, its file decides.
type mediumFlag struct {
	medium calib.Medium
	given  bool
}

func (f *mediumFlag) String() string { return "" }

func (f *mediumFlag) Set(text string) error {
	m, err := calib.ParseMedium(text)
	if err != nil {
		return fmt.Errorf("want scan, photograph or drawn")
	}
	f.medium, f.given = m, true
	return nil
}

// calibrateRequest is what the flags of the command ask for.
type calibrateRequest struct {
	grid   gridFlag
	points string

	picture  string
	page     numberFlag
	findGrid bool
	auto     bool
	names    nameFlag
	evidence evidenceFlag
	square   numberFlag

	graticule graticuleFlag
	datum     string

	rectify    string
	rectifyMPP numberFlag

	medium mediumFlag
	sigma  numberFlag
	dpi    numberFlag
	at     atFlag
	asJSON bool
}

func (q *calibrateRequest) flags(o *options) {
	q.sigma = numberFlag{value: calib.DefaultSigmaPx, min: 0.001, max: 1000}
	q.dpi = numberFlag{min: 1, max: 1e5}
	o.Var(&q.grid, "grid", gridWords)
	o.StringVar(&q.points, "points", "", "the `FILE` of control points")
	o.StringVar(&q.picture, "picture", "", "the `FILE` of the picture")
	q.page = numberFlag{min: 1, max: 1e6}
	o.Var(&q.page, "page", "the page `N` of a PDF or TIFF, or overlay of a KML file (default the first)")
	o.BoolVar(&q.findGrid, "find-grid", false, "look for the printed grid in the picture")
	o.BoolVar(&q.auto, "auto", false, "take the calibration from the picture's file, and compare it with the printed grid; not with --medium or --point-sigma-px")
	o.Var(&q.names, "name", "a place `COL,ROW=REF` of a crossing with its reference; may be repeated")
	o.Var(&q.evidence, "evidence", "a feature `SOURCE:COL,ROW=REF` to check the calibration by, and where its reference comes from: margin, list, receiver, sheet, file or own-grid; may be repeated")
	q.square = numberFlag{min: 1, max: 1e6}
	o.Var(&q.square, "square", "the side of a grid square in `METRES` (default: what two names tell)")
	o.Var(&q.graticule, "graticule", "the printed lines are latitude and longitude, so many `MINUTES` apart: 5, or 5,10 for latitude and longitude")
	o.StringVar(&q.datum, "datum", "wgs84", "the `DATUM` of latitudes and longitudes: own, the grid's, or wgs84")
	o.Var(&q.medium, "medium", "how the picture was made, scan, photograph or drawn (by a program); left out, its file decides")
	o.Var(&q.sigma, "point-sigma-px", "the standard deviation `PX` of a point on each axis (default 0.7)")
	o.Var(&q.dpi, "dpi", "the resolution `N` of the scan in pixels per inch, if known; for a PDF that of the drawing")
	o.Var(&q.at, "at", "a place `COL,ROW` of the picture to convert; may be repeated")
	o.StringVar(&q.rectify, "rectify", "", "export a rectified map (grid north up) to `FILE.png` or .jpg, with a world file and, if well-known text can define the grid, a .prj")
	q.rectifyMPP = numberFlag{min: 1e-6, max: 1e6}
	o.Var(&q.rectifyMPP, "metres-per-pixel", "the `METRES` of a pixel of the rectified map (default about the sheet's own)")
	o.BoolVar(&q.asJSON, "json", false, "write JSON")
}

// drawing says which page of a document is the picture. --dpi draws a PDF at
// that resolution; other pictures have their own.
func (q *calibrateRequest) drawing() scan.Options {
	o := scan.Options{Page: int(q.page.value)}
	if q.isPDF() {
		o.DPI = q.dpi.value
	}
	return o
}

// isPDF says whether the picture is a page of a document, which alone is drawn
// at a resolution of one's choice here.
func (q *calibrateRequest) isPDF() bool { return strings.EqualFold(filepath.Ext(q.picture), ".pdf") }

// checkPage holds --page and --dpi against the kind of picture.
func (q *calibrateRequest) checkPage() error {
	switch {
	case q.page.value != math.Trunc(q.page.value):
		return usagef("--page %g is not a whole number", q.page.value)
	case !q.isPDF() && q.dpi.value > 0:
		return usagef("--dpi goes with a PDF; %s is read as it is", filepath.Base(q.picture))
	}
	return nil
}

// check says which flags are missing.
func (q *calibrateRequest) check() error {
	switch {
	case q.datum != "own" && q.datum != "wgs84":
		return usagef("--datum %q: want own or wgs84", q.datum)
	case q.graticule.given() && (len(q.names) == 0 || q.square.value > 0):
		return usagef("--graticule goes with --find-grid and a --name in latitude and longitude, and without --square")
	case q.auto && q.picture == "":
		return usagef("--picture is missing: name the picture whose file says where it lies")
	case q.auto && (q.findGrid || q.points != "" || q.grid.system != nil):
		return usagef("--auto takes grid and place from the file: leave out --grid, --points and --find-grid")
	case q.auto:
		return q.checkPage()
	case q.findGrid && q.picture == "":
		return usagef("--picture is missing: name the picture whose printed grid is to be found")
	case q.picture != "" && !q.findGrid && q.points == "":
		return usagef("--find-grid or --points is missing: a picture alone calibrates nothing")
	case q.page.value != math.Trunc(q.page.value):
		return usagef("--page %g is not a whole number", q.page.value)
	case q.page.value > 0 && q.picture == "":
		return usagef("--page goes with --picture")
	case len(q.names) > 0 && !q.findGrid && !q.auto:
		return usagef("--name goes with --picture and --find-grid")
	case q.points == "" && !q.findGrid:
		return usagef("--points is missing: name the file of control points, or a --picture to --find-grid in")
	}
	return nil
}
