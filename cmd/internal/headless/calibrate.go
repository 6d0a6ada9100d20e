package headless

import (
	"errors"
	"fmt"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

const calibrateHelp = `
FILE is CSV with the header col,row,easting,northing or col,row,ref; - reads it
from the standard input. Columns and rows are pixels from the top-left corner of
the picture as it is shown. A reference is the south-west corner of its square,
the crossing of two grid lines.

Two points give a similarity, three or more a similarity or an affine fit by
least squares. Two points have no redundancy, and no fit proves itself: check
it against a feature that is not among the points. With --dpi, two points are
held against the usual scales of maps as well.

Where the points allow no similarity at all, because every easting and northing
was exchanged or the picture is mirrored, the affine fit is given with a warning
that names the slip, unless --fit similarity was asked for. Where there is no
fit, --json writes {"error": sentence, "warnings": [...]} and the exit code is 1.

keys: fit, matrix [a,b,c,d,e,f] with E = a·col + b·row + c and
N = d·col + e·row + f, metres_per_pixel, rotation_deg (grid north clockwise from
picture up), residuals [{east_m,north_m,px}] (reference less fit), rms_m, rms_px,
dof, warnings [{code,text}], at [{easting_m,northing_m,lat_deg,lon_deg,
sigma_e_m,sigma_n_m,cov_en_m2}]. lat and lon are WGS 84; the covariance is that
of the points' standard deviation, times max(1, s0²) with redundancy.
`

func calibrateCommand() command {
	return command{
		name:  "calibrate",
		usage: "--grid EPSG:CODE --points FILE.csv [--fit similarity|affine] [--point-sigma-px 0.7] [--dpi N] [--at COL,ROW]... [--json]",
		about: "calibrate a picture by its control points",
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
		return fmt.Errorf("want similarity or affine (or auto)")
	}
	f.kind = kind
	return nil
}

// calibrateRequest is what the flags of the command ask for.
type calibrateRequest struct {
	grid   gridFlag
	points string
	fit    fitFlag
	sigma  numberFlag
	dpi    numberFlag
	at     atFlag
	asJSON bool
}

func (q *calibrateRequest) flags(o *options) {
	q.sigma = numberFlag{value: calib.DefaultSigmaPx, min: 0.001, max: 1000}
	q.dpi = numberFlag{min: 1, max: 1e5}
	o.Var(&q.grid, "grid", "the `GRID` of the references, such as EPSG:27700")
	o.StringVar(&q.points, "points", "", "the `FILE` of control points")
	o.Var(&q.fit, "fit", "the `KIND` of fit: similarity or affine; left out, the points decide")
	o.Var(&q.sigma, "point-sigma-px", "the standard deviation `PX` of a point on each axis (default 0.7)")
	o.Var(&q.dpi, "dpi", "the resolution `N` of the scan in pixels to the inch, where known")
	o.Var(&q.at, "at", "a place `COL,ROW` of the picture to convert; may be repeated")
	o.BoolVar(&q.asJSON, "json", false, "write JSON")
}

func runCalibrate(c command, args []string, s streams) error {
	o := newOptions(c, calibrateHelp)
	var q calibrateRequest
	q.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	system, err := q.grid.need()
	if err != nil {
		return err
	}
	if q.points == "" {
		return usagef("--points is missing: name the file of control points")
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
	return writeCalibration(result, q.asJSON, s)
}

// calibrate reads the points and fits them. After an error the result still
// holds what is to be said of the points.
func (q *calibrateRequest) calibrate(system *geodesy.System, s streams) (calibration, error) {
	out := calibration{system: system}
	reader := &pointReader{system: system, sigmaPx: q.sigma.value}
	list, err := reader.readPointsFile(q.points, s)
	out.notices = reader.notices
	if err != nil {
		return out, err
	}
	out.notices = append(out.notices, areaNotices(system, list)...)
	if out.fit, err = fitOf(list, calib.Options{Kind: q.fit.kind, DPI: q.dpi.value}); err != nil {
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
