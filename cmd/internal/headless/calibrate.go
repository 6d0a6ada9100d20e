package headless

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/scan"
)

const calibrateHelp = `
FILE is CSV with the header col,row,easting,northing or col,row,ref; - reads it
from the standard input. Eastings and northings are in the grid's printed unit:
metres, feet, or longitude and latitude in degrees. Columns and rows are pixels from the top-left corner of
the picture as it is shown. A reference is the south-west corner of its square,
the crossing of two grid lines. It may be latitude and longitude, WGS 84 unless
--datum own says that the margin's are on the grid's own datum.

Two points give a similarity. With more, the simplest of similarity, affine,
perspective (a photograph of flat paper, from 4 points) and smooth (paper that
is folded or stretched, from 9) is taken that a freer one does not clearly
better when each point is left out in turn; --fit overrules it. Two points have no redundancy, and no fit proves itself: check
it against a feature that is not among the points. With --dpi, two points are
held against the usual scales of maps as well.

Where the points allow no similarity at all, because every easting and northing
was exchanged or the picture is mirrored, the affine fit is given with a warning
that names the slip, unless --fit similarity was asked for. Where there is no
fit, --json writes {"error": sentence, "warnings": [...]} and the exit code is 1.

A --picture beside --points is looked at for its size, and for whether a camera
took it: where the points do not carry all of it, a warning says how far they may
be trusted, and a photograph with fewer than four points is warned of.
--picture FILE --find-grid looks for the printed grid in the picture. With a
crossing named, each crossing becomes a control point; without, and without
--points, what was found is reported alone and --grid is not needed. Points of
the file that lie on a crossing name it. lattice {found, reason, square_px,
angle_deg, oblong, support, square_m, seconds, crossings [{col,row,i,j,quality,
sigma_px,easting_m,northing_m}]} comes beside the other keys; i counts lines to
the right, j upwards, from anywhere; oblong meshes may be latitude and longitude.
--graticule MINUTES says that the lines are latitude and longitude: one crossing
named so, such as --name "1204,838=56°10'N 6°20'W", makes each a control point on
the sheet's grid. Where the margin's are on the grid's own datum, say --datum own.
A PDF is drawn first: page --page, at --dpi pixels an inch or, left out, as fine
as the pictures it is made of, 200 for a drawing; pixels are those of that
drawing, which a warning names.
--picture FILE --auto takes grid and place from the file (GeoTIFF, KML, PDF, world file
with .prj) and holds them against the printed lines. Lines agree as well where
the file is wrong by whole squares or a factor, turned or mirrored: only with
three crossings named (--name) that are not in one line, and all where the file
has them, is the sheet proved. source, grid, corners, printed_grid {compared,
agrees,square_m,crossings,rms_px,worst_px or reason} and proof (null until then)
come beside the other keys.
A whole square misread at the name is misread alike everywhere and fits.
--report FILE.pdf writes the same on one page: the picture, pale, with the grid as
the fit has it and what is left over at the control points, lengthened, the fits
tried, the figures, the proof and the cautions.

keys: fit, matrix [a,b,c,d,e,f] with E = a·col + b·row + c and
N = d·col + e·row + f (of similarity and affine only; perspective gives
perspective [h0…h7] with w = h6·col + h7·row + 1, E = (h0·col + h1·row + h2)/w
and N = (h3·col + h4·row + h5)/w), metres_per_pixel, rotation_deg (grid north clockwise from
picture up), residuals [{east_m,north_m,px}] (reference less fit), rms_m, rms_px,
dof, loo_m [{fit,loo_m,chosen,reason}] (root mean square error at a point left
out, for each fit; null where too few are left or it was not tried), warnings [{code,text}], at [{easting_m,northing_m,lat_deg,lon_deg,
sigma_e_m,sigma_n_m,cov_en_m2,trusted,outside_points_px}] (trusted is false where
the fit is a guess, too far outside its control points). lat and lon are WGS 84; the covariance is that
of the points' standard deviation, times max(1, s0²) with redundancy.
`

func calibrateCommand() command {
	return command{
		name:  "calibrate",
		usage: "--picture FILE --auto [--name COL,ROW=REF]... [--square METRES] | --grid GRID [--points FILE.csv] [--picture FILE [--page N] [--find-grid [--name COL,ROW=REF]... [--square METRES | --graticule MINUTES [--datum own|wgs84]]]] [--fit auto|similarity|affine|perspective|smooth] [--point-sigma-px 0.7] [--dpi N] [--at COL,ROW]... [--report FILE.pdf] [--json]",
		about: "calibrate a picture by control points or by its printed grid",
		run:   runCalibrate,
	}
}

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

// fitFlag is the kind of fit.
type fitFlag struct{ kind calib.Kind }

func (f *fitFlag) String() string { return f.kind.String() }

func (f *fitFlag) Set(text string) error {
	kind, err := calib.ParseKind(text)
	if err != nil || kind == calib.Given {
		return fmt.Errorf("want auto, similarity, affine, perspective or smooth")
	}
	f.kind = kind
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
	square   numberFlag

	graticule graticuleFlag
	datum     string

	report string

	fit    fitFlag
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
	o.BoolVar(&q.auto, "auto", false, "take the calibration from what the picture's file says, and hold it against the printed grid")
	o.Var(&q.names, "name", "a place `COL,ROW=REF` of a crossing with its reference; may be repeated")
	q.square = numberFlag{min: 1, max: 1e6}
	o.Var(&q.square, "square", "the side of a grid square in `METRES` (default: what two names tell, else 1000)")
	o.Var(&q.graticule, "graticule", "the printed lines are latitude and longitude, so many `MINUTES` apart: 5, or 5,10 for latitude and longitude")
	o.StringVar(&q.datum, "datum", "wgs84", "the `DATUM` of latitudes and longitudes: own, the grid's, or wgs84")
	o.Var(&q.fit, "fit", "the `KIND` of fit: similarity, affine, perspective or smooth; auto or left out, the points decide")
	o.Var(&q.sigma, "point-sigma-px", "the standard deviation `PX` of a point on each axis (default 0.7)")
	o.Var(&q.dpi, "dpi", "the resolution `N` of the scan in pixels to the inch, where known")
	o.Var(&q.at, "at", "a place `COL,ROW` of the picture to convert; may be repeated")
	o.StringVar(&q.report, "report", "", "write the `FILE.pdf`, a page that shows the calibration")
	o.BoolVar(&q.asJSON, "json", false, "write JSON")
}

func runCalibrate(c command, args []string, s streams) error {
	o := newOptions(c, calibrateHelp)
	var q calibrateRequest
	q.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if err := q.check(); err != nil {
		return err
	}
	if q.auto && (o.set("fit") || o.set("point-sigma-px")) {
		return usagef("--auto takes the file's own transform: leave out --fit and --point-sigma-px")
	}
	if q.report != "" && q.findGrid && q.points == "" && len(q.names) == 0 {
		return usagef("--report needs a calibration: name a crossing, or give --points")
	}
	if q.findGrid && q.points == "" && len(q.names) == 0 {
		found, notices, err := findGrid(context.Background(), q.picture, q.drawing())
		if err != nil {
			return err
		}
		return writeSearch(&found, notices, q.asJSON, s)
	}
	if q.auto {
		result, err := q.autoCalibrate()
		if err != nil {
			warnAll(result.notices, q.asJSON, s)
			return err
		}
		return q.write(result, s)
	}
	system, err := q.grid.need()
	if err != nil {
		return err
	}
	result, err := q.calibrate(system, s)
	if err != nil && q.asJSON {
		if err := writeNoFit(s, err, result.notices); err != nil {
			return err
		}
	}
	if err != nil {
		return err
	}
	return q.write(result, s)
}

// write writes the report, where one is asked for, and the calibration.
func (q *calibrateRequest) write(c calibration, s streams) error {
	if q.report != "" {
		if err := q.writeReport(c, s); err != nil {
			return err
		}
	}
	return writeCalibration(c, q.asJSON, s)
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

// controls collects the control points of the file and of the printed grid.
func (q *calibrateRequest) controls(out *calibration, s streams) ([]calib.ControlPoint, error) {
	var list []calib.ControlPoint
	if q.points != "" {
		reader := &pointReader{system: out.system, sigmaPx: q.sigma.value, datum: datumOf{own: q.datum == "own"}}
		var err error
		list, err = reader.readPointsFile(q.points, s)
		out.notices = reader.notices
		if err != nil {
			return nil, err
		}
	}
	if !q.findGrid {
		return list, q.look(out)
	}
	found, notices, err := findGrid(context.Background(), q.picture, q.drawing())
	out.lattice, out.notices = &found, append(out.notices, notices...)
	out.header, out.image = found.header, found.image
	if err != nil {
		return nil, err
	}
	if q.graticule.given() {
		crossings, notices, err := found.latitudes(q.names, q.graticule, out.system, q.datum == "own")
		out.notices, out.crossings = append(out.notices, notices...), crossings
		return append(list, crossings...), err
	}
	notices, err = found.name(q.names, list, out.system, q.datum == "own")
	out.notices = append(out.notices, notices...)
	if err != nil {
		return nil, err
	}
	if len(found.names) == 0 { // the file's points lie on no crossing
		return list, nil
	}
	crossings, notices, err := found.points(q.square.value)
	out.notices, out.crossings = append(out.notices, notices...), crossings
	if len(q.names) == 0 { // points that named crossings are in them already
		list = slices.DeleteFunc(list, func(p calib.ControlPoint) bool {
			_, on := found.found.Nearest(p.At)
			return on
		})
	}
	return append(list, crossings...), err
}

// look reads the header of a picture that is given beside a file of points.
func (q *calibrateRequest) look(out *calibration) error {
	if q.picture == "" {
		return nil
	}
	h, _, _, err := lookAt(q.picture, q.drawing())
	out.header = h
	return err
}

// options are those of the fit of a picture; a zero header is of none.
func (q *calibrateRequest) options(h scan.Header) calib.Options {
	return calib.Options{Kind: q.fit.kind, DPI: q.dpi.value, Width: h.Width, Height: h.Height, Photo: h.Photo}
}

// calibrate reads the points and fits them. After an error the result still
// holds what is to be said of the points.
func (q *calibrateRequest) calibrate(system *geodesy.System, s streams) (calibration, error) {
	out := calibration{system: system}
	list, err := q.controls(&out, s)
	if err != nil {
		return out, err
	}
	out.notices = append(out.notices, gridNotices(system, list)...)
	if out.fit, err = fitOf(list, q.options(out.header)); err != nil {
		out.notices = append(out.notices, slipsOf(err)...)
		return out, err
	}
	out.notices = append(out.notices, calibNotices(out.fit)...)
	out.places, err = placesOf(out.fit, system, q.at)
	return out, err
}

// fitOf fits the points. Where the kind was left to the points and they allow
// no similarity, the affine fit stands in: its warnings name the slip.
func fitOf(list []calib.ControlPoint, o calib.Options) (*calib.Calibration, error) {
	fitted, err := calib.Fit(list, o)
	if o.Kind != calib.Auto || len(slipsOf(err)) == 0 {
		return fitted, err
	}
	o.Kind = calib.Affine
	if fitted, errAffine := calib.Fit(list, o); errAffine == nil {
		return fitted, nil
	}
	return nil, err
}

// slipsOf returns the slips that explain why there is no fit.
func slipsOf(err error) []notice {
	var unfit *calib.Unfit
	if !errors.As(err, &unfit) {
		return nil
	}
	var out []notice
	for _, w := range unfit.Slips {
		out = append(out, notice{w.Code, w.Text})
	}
	return out
}
