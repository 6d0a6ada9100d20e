package headless

import (
	"context"
	"errors"
	"slices"

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
has them, is the sheet proved. Lines that contradict the file leave nothing to trust:
the warning is place-contradicted, and trusted is false everywhere. source, grid, corners, printed_grid {compared,
agrees,square_m,crossings,rms_px,worst_px or reason} and proof (null until then)
come beside the other keys.
A whole square misread at the name is misread alike everywhere and fits.
--rectify FILE.png or .jpg writes the picture itself for printing, grid north up
and square metres, about as fine as the sheet or at --metres-per-pixel, at most 400
million pixels, with a world file beside it in the unit of the grid (.pgw, .jgw),
which names no grid. Below the map, and in the file's text, stand fit, error and
proof; what lies beyond the control points is struck through, what lies outside the
picture is white. A file that is there already is never replaced. rectified
{file, world_file, metres_per_pixel, west_m, north_m (of the top-left corner),
width_px, height_px (of the map), says} comes beside the other keys.

keys: fit, matrix [a,b,c,d,e,f] with E = a·col + b·row + c and
N = d·col + e·row + f (of similarity and affine only; perspective gives
perspective [h0…h7] with w = h6·col + h7·row + 1, E = (h0·col + h1·row + h2)/w
and N = (h3·col + h4·row + h5)/w), metres_per_pixel, rotation_deg (grid north clockwise from
picture up), residuals [{east_m,north_m,px}] (reference less fit), rms_m, rms_px,
dof, loo_m [{fit,loo_m,chosen,reason}] (root mean square error at a point left
out, for each fit; null where too few are left or it was not tried), warnings [{code,text}], at [{easting_m,northing_m,lat_deg,lon_deg,
sigma_e_m,sigma_n_m,cov_en_m2,trusted,outside_points_px}] (trusted is false where
the fit is a guess, too far outside its control points, and everywhere where
these contradict each other, the picture is mirrored, or its printed grid or a named
crossing contradicts the file). lat and lon are WGS 84; the covariance is that of the points' standard deviation, times max(1, s0²) with redundancy.
`

func calibrateCommand() command {
	return command{
		name:  "calibrate",
		usage: "--picture FILE --auto [--name COL,ROW=REF]... [--square METRES] | --grid GRID [--points FILE.csv] [--picture FILE [--page N] [--find-grid [--name COL,ROW=REF]... [--square METRES | --graticule MINUTES [--datum own|wgs84]]]] [--fit auto|similarity|affine|perspective|smooth] [--point-sigma-px 0.7] [--dpi N] [--at COL,ROW]... [--rectify FILE.png|FILE.jpg [--metres-per-pixel M]] [--json]",
		about: "calibrate a picture by control points or by its printed grid",
		run:   runCalibrate,
	}
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
	if err := q.checkRectify(); err != nil {
		return err
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

// write writes the rectified map, where one is asked for, and
// the calibration.
func (q *calibrateRequest) write(c calibration, s streams) error {
	if q.rectify != "" {
		if err := q.writeRectified(&c, s); err != nil {
			return err
		}
	}
	return writeCalibration(c, q.asJSON, s)
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
	out.notices = append(out.notices, fresh(placeNotices(system, out.places), out.notices)...)
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
