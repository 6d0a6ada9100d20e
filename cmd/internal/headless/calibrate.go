package headless

import (
	"context"
	"errors"
	"slices"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/mapio/scan"
)

const calibrateHelp = `
Control points
  --points FILE is CSV with the header col,row,easting,northing or col,row,ref;
  - reads it from the standard input, and lines that begin with # are passed over.
  Columns and rows are pixels from the top-left corner of the picture as it is
  shown. Eastings and northings are in the grid's printed unit: metres, feet, or
  longitude and latitude in degrees. A reference is the south-west corner of its
  square, where two grid lines cross. It may be latitude and longitude: WGS 84,
  or with --datum own as a margin prints them on the grid's own datum.

The fit
  Two points and more make a calibration: a flat sheet, and of four points of a
  photograph the perspective of its camera. Beside that, paper stretches (0.4 %
  each way, standard deviation), shears (0.1°) and bends (0.03 % of the picture's
  diagonal); a tenth of it where a program drew the picture. The stated errors
  count it. --medium says whether the picture is a scan, a photograph or drawn by
  a program. Left out, the file decides: a camera's EXIF figures make a photograph,
  a PDF page that is not made of pictures is drawn, all else is a scan.
  No fit checks itself: compare it with a feature that is not among the points, see
  --evidence.
  --dpi is the resolution of the scan; with it, two points are compared with the
  usual scales of maps. For a PDF it is the resolution of the drawing.
  With --points, --picture gives the size of the picture and how it was made:
  cautions say where the sheet is not to be trusted, and that a photograph needs
  four points.

The printed grid: --picture FILE --find-grid
  Each intersection becomes a control point once one is named, with --name or by
  a point of --points that lies on it. Without either, the command only reports
  what it found, and needs no --grid. Two names tell how wide a square is, by the
  lines between them; for one give --square. A name must lie on a multiple of it.
  --graticule MINUTES says that the lines are latitude and longitude. One crossing
  named so, such as --name "1204,838=56°10'N 6°20'W", names them all.
  If you misread the square at the one name, all crossings are wrong by the same
  amount and still fit.
  A PDF is drawn first: --page, at --dpi pixels per inch, or as fine as the
  pictures it is made of, or at 200. Columns and rows are those of that drawing,
  and with --find-grid and --auto a note gives its size.

What the file says: --picture FILE --auto
  Grid and position come from the file: GeoTIFF, KML, PDF, or a world file with a
  .prj. They are compared with the printed lines. Lines agree just as well if the
  file is wrong by whole squares or a factor, or turned or mirrored: the sheet is
  checked only if you name three intersections, not in one line, that all lie where
  the file has them, and give a latitude and longitude as evidence, since easting and
  northing cannot show a wrong zone or projection. If the lines or a name disagree
  with the file, the caution is evidence-disagrees and trusted is false everywhere.

What checks it: --evidence "SOURCE:COL,ROW=REF", as often as there is evidence
  A feature whose reference does not come from the control points. SOURCE says where
  it comes from, which decides what it can show: margin (latitude and longitude that
  the map's margin prints), list (a published list), receiver (GPS), file (another
  file's georeference), own-grid (figures of this map's own grid) or sheet (another
  sheet; as nobody knows here whether that is checked, it can disagree, but not
  check). The calibration is checked only if all evidence agrees, no stop stands, and
  none of the usual slips would go unseen: a square misread at one point, along a line
  or everywhere, letters, zone and hemisphere.

The rectified map: --rectify FILE.png or .jpg
  The picture with grid north up and square metres, about as fine as the sheet or
  at --metres-per-pixel, at most 400 million pixels. A world file (.pgw, .jgw) in
  the grid's unit is written beside it, and a .prj if well-known text can define
  the grid. Below the map and in the file's text stand the fit, its error and
  whether the sheet is checked. The ground beyond the control points is struck
  through; outside the picture the map is white. Existing files are never
  overwritten.

--json writes these keys:
  medium (scan, photograph, drawn or given); matrix [a,b,c,d,e,f] with
  E = a·col + b·row + c and N = d·col + e·row + f: the map that touches the
  calibration amid the points, exact everywhere only where the file gave it;
  metres_per_pixel; rotation_deg (grid north clockwise from picture up);
  residuals [{east_m,north_m,px}] (reference less fit); rms_m; rms_px; dof;
  click_factor, by how much the clicks look looser than stated; bend_factor, by
  how much the picture bends more than paper usually does;
  checked {by,within_m,scope} or null: by what, to how many metres (errors beyond are
  rarer than 1 %), and for what, grid or latitude-longitude;
  cautions [{code,grade,subject,affects,text}];
  at [{easting_m,northing_m,lat_deg,lon_deg,sigma_e_m,sigma_n_m,cov_en_m2,trusted,
  outside_points_px}]: metres on grids of feet and degrees too, where the table
  gives feet; latitude and longitude are WGS 84; sigma and covariance are
  those of one standard deviation of paper and points, times 1.96 for 95 %;
  trusted is null where --points comes without the size that --picture gives, false
  where the 95 % radius exceeds 1 % of the picture's diagonal, and
  everywhere where the points contradict each other, the picture is mirrored, a
  photograph has fewer than four, or the printed grid or a named crossing
  contradicts the file.
  With --find-grid and --auto: lattice {found,seconds,square_px,angle_deg,oblong,
  support,graticule_min,square_m,crossings [{col,row,i,j,quality,sigma_px,
  easting_m,northing_m}]}, or found, seconds and reason where there is none; i
  counts lines to the right, j upwards, from anywhere; oblong meshes may be
  latitude and longitude.
  With --auto: source, grid, corners, printed_grid {compared,agrees,square_m,
  crossings,median_px,rms_px,worst_px} or {compared,reason}.
  With --rectify: rectified {file,world_file,grid_file,metres_per_pixel,west_m,
  north_m (of the top-left corner),width_px,height_px (of the map),says}.
  Where --points or --find-grid with --grid allow no fit: {"error": sentence,
  "cautions": [...]}, and the exit code is 1.
`

func calibrateCommand() command {
	return command{
		name:  "calibrate",
		usage: "--points FILE.csv --grid GRID [--picture FILE] | --picture FILE --find-grid [--grid GRID] [--points FILE.csv] [--name COL,ROW=REF]... [--square METRES | --graticule MINUTES] | --picture FILE --auto [--name COL,ROW=REF]... [--square METRES]; with each [--page N] [--dpi N] [--datum own|wgs84] [--medium scan|photograph|drawn] [--point-sigma-px 0.7] [--evidence SOURCE:COL,ROW=REF]... [--at COL,ROW]... [--rectify FILE.png|FILE.jpg [--metres-per-pixel M]] [--json]",
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
	if q.auto && (o.set("medium") || o.set("point-sigma-px")) {
		return usagef("--auto takes the file's own transform: leave out --medium and --point-sigma-px")
	}
	if err := q.checkRectify(); err != nil {
		return err
	}
	if q.findGrid && q.points == "" && len(q.names) == 0 {
		found, cautions, err := findGrid(context.Background(), q.picture, q.drawing())
		if err != nil {
			return err
		}
		return writeSearch(&found, cautions, q.asJSON, s)
	}
	if q.auto {
		result, err := q.autoCalibrate()
		if err != nil {
			speakAll(result.cautions, q.asJSON, s)
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
		if err := writeNoFit(s, err, result.cautions); err != nil {
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
		out.cautions = reader.cautions
		if err != nil {
			return nil, err
		}
	}
	if !q.findGrid {
		return list, q.look(out)
	}
	found, cautions, err := findGrid(context.Background(), q.picture, q.drawing())
	found.header = q.as(found.header)
	out.lattice, out.cautions = &found, append(out.cautions, cautions...)
	out.header, out.image = found.header, found.image
	if err != nil {
		return nil, err
	}
	if q.graticule.given() {
		crossings, cautions, err := found.latitudes(q.names, q.graticule, out.system, q.datum == "own")
		out.cautions, out.crossings = append(out.cautions, cautions...), crossings
		return append(list, crossings...), err
	}
	cautions, err = found.name(q.names, list, out.system, q.datum == "own")
	out.cautions = append(out.cautions, cautions...)
	if err != nil {
		return nil, err
	}
	if len(found.names) == 0 { // the file's points lie on no crossing
		return list, nil
	}
	crossings, err := found.points(q.square.value, out.system, found.header.Medium)
	out.crossings = crossings
	if len(q.names) == 0 { // points that named crossings are in them already
		list = slices.DeleteFunc(list, func(p calib.ControlPoint) bool {
			_, on := found.found.On(p.At)
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
	out.header = q.as(h)
	return err
}

// as is a header with the medium that was asked for, if any was.
func (q *calibrateRequest) as(h scan.Header) scan.Header {
	if q.medium.given {
		h.Medium = q.medium.medium
	}
	return h
}

// options are those of the fit of a picture; a zero header is of none.
func (q *calibrateRequest) options(h scan.Header) calib.Options {
	return calib.Options{Medium: q.as(h).Medium, Focal: h.Focal, DPI: q.dpi.value, Width: h.Width, Height: h.Height}
}

// calibrate reads the points and fits them. After an error the result still
// holds what is to be said of the points.
func (q *calibrateRequest) calibrate(system *geodesy.System, s streams) (calibration, error) {
	out := calibration{system: system}
	list, err := q.controls(&out, s)
	if err != nil {
		return out, err
	}
	out.cautions = append(out.cautions, gridCautions(system, list)...)
	if out.fit, err = calib.Fit(list, q.options(out.header)); err != nil {
		out.cautions = append(out.cautions, slipsOf(err)...)
		return out, err
	}
	evidence, err := q.evidence.read(system, calib.DefaultSigmaPx)
	if err != nil {
		return out, err
	}
	out.verdict = leg.Judge(leg.Single{Calibration: out.fit, System: system, Width: out.header.Width, Height: out.header.Height, Evidence: evidence})
	out.cautions = append(out.cautions, out.verdict.CautionsWith(out.fit)...)
	out.places, err = placesOf(out.fit, system, q.at)
	for i := range out.places {
		out.places[i].unsized = out.header.Width == 0
	}
	out.cautions = append(out.cautions, fresh(placeCautions(system, out.places), out.cautions)...)
	return out, err
}

// slipsOf returns the slips that explain why there is no fit.
func slipsOf(err error) []caution.Caution {
	var unfit *calib.Unfit
	if !errors.As(err, &unfit) {
		return nil
	}
	return unfit.Cautions
}
