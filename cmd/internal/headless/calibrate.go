package headless

import (
	"fmt"
	"strings"

	"legwright/app/calib"
)

const calibrateHelp = `
FILE is CSV with the header col,row,easting,northing or col,row,ref; - reads it
from the standard input. Columns and rows are pixels from the top-left corner of
the picture as it is shown. A reference is the south-west corner of its square,
the crossing of two grid lines.

Two points give a similarity, three or more a similarity or an affine fit by
least squares. Two points have no redundancy, and no fit proves itself: check
it against a feature that is not among the points.

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
		usage: "--grid EPSG:CODE --points FILE.csv [--fit similarity|affine] [--point-sigma-px 0.7] [--at COL,ROW]... [--json]",
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

func runCalibrate(c command, args []string, s streams) error {
	o := newOptions(c, calibrateHelp)
	var grid gridFlag
	var at atFlag
	var fit fitFlag
	sigma := numberFlag{value: calib.DefaultSigmaPx, min: 0.001, max: 1000}
	o.Var(&grid, "grid", "the `GRID` of the references, such as EPSG:27700")
	points := o.String("points", "", "the `FILE` of control points")
	o.Var(&fit, "fit", "the `KIND` of fit: similarity or affine; left out, the points decide")
	o.Var(&sigma, "point-sigma-px", "the standard deviation `PX` of a point on each axis (default 0.7)")
	o.Var(&at, "at", "a place `COL,ROW` of the picture to convert; may be repeated")
	asJSON := o.Bool("json", false, "write JSON")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	system, err := grid.need()
	if err != nil {
		return err
	}
	if *points == "" {
		return usagef("--points is missing: name the file of control points")
	}
	reader := &pointReader{system: system, sigmaPx: sigma.value}
	list, err := reader.readPointsFile(*points, s)
	if err != nil {
		return err
	}
	fitted, err := calib.Fit(list, calib.Options{Kind: fit.kind})
	if err != nil {
		return err
	}
	places, err := placesOf(fitted, system, at)
	if err != nil {
		return err
	}
	cautions := append(reader.notices, areaNotices(system, list)...)
	cautions = append(cautions, calibNotices(fitted)...)
	return writeCalibration(calibration{fitted, system, places, cautions}, *asJSON, s)
}
