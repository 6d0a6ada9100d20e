package headless

import (
	"errors"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/mapio/scan"
)

const fitHelp = `
Calibrates a picture from control points. --points FILE is CSV with the header
  col,row,easting,northing   or   col,row,ref

Lines that begin with # are skipped; --points - reads standard input. Columns and rows are
pixels from the top-left corner of the picture as it is shown. Eastings and northings are in
the grid's printed unit: metres, feet or degrees. A reference means the south-west corner of
its square, where two grid lines cross. Latitude and longitude are taken as WGS 84; with
--datum own, as printed in the margin, on the map's own datum.

Give --picture too: its size decides where the sheet can be trusted, and its file
whether it is a scan, a photograph or drawn by a program. A photograph needs five
points. With --dpi, two points are compared with the usual scales of maps.

The stated error allows for paper, which stretches (0.4 % each way, one standard deviation),
shears (0.1°) and bends (0.03 % of the diagonal). If a program drew the picture, the error
allows for a tenth of that.
` + evidenceHelp + `
--json writes:
` + calibrationKeys + noFitKeys

// evidenceHelp explains what checks a calibration.
const evidenceHelp = `
No calibration checks itself: every point may be wrong by the same square and still fit.
--evidence "SOURCE:COL,ROW=REF" names a feature to check it with, whose reference comes from
somewhere else:
  margin    latitude and longitude printed in the map's margin
  list      a published list
  receiver  a GPS receiver
  file      another file's georeference
  own-grid  the map's own grid, which cannot show a wrong zone or letters
  sheet     another sheet, which can disagree, but checks nothing here

The sheet is checked only if every --evidence agrees, there is no stop, and a misread
square, line, letter, zone or hemisphere would have shown.
`

// calibrationKeys are the JSON keys of every calibration.
const calibrationKeys = `  medium: scan, photograph or drawn, or given if a file gave the calibration
  matrix [a,b,c,d,e,f]: E = a·col + b·row + c and N = d·col + e·row + f, exact only if a
      file gave it, otherwise the best linear fit in the middle of the points
  metres_per_pixel
  rotation_deg: grid north, clockwise from the top of the picture
  residuals [{east_m,north_m,px}]: reference less fit; rms_m, rms_px: their root mean square
  dof: degrees of freedom of the fit
  click_factor: how many times less exact the clicks look than stated
  bend_factor: how many times more the picture bends than paper usually does
  checked {by,within_m,scope} or null: by what, to how many metres, and for the grid alone
      or for latitude and longitude too
  cautions [{code,grade,subject,affects,text}]
  at [{easting_m,northing_m,lat_deg,lon_deg,sigma_e_m,sigma_n_m,cov_en_m2,trusted,
      outside_points_px}]: metres even on grids of feet; latitude and longitude on WGS 84;
      sigma is one standard deviation (1.96 of them are 95 %). trusted is false where the
      95 % error exceeds 1 % of the picture's diagonal or the points contradict each other,
      and null if the picture's size is not known
`

// noFitKeys are written where there is no calibration.
const noFitKeys = `  If there is no calibration: error (a sentence) and cautions; the exit status is 1.
`

func fitCommand() command {
	return command{
		name:  "fit",
		usage: "--points FILE.csv --grid GRID [--picture FILE [--page N]] [--dpi N] [--datum own|wgs84] [--medium scan|photograph|drawn] [--point-sigma-px 0.7] [--evidence SOURCE:COL,ROW=REF]... [--at COL,ROW]... [--json]",
		about: "calibrate a picture from control points",
		run:   runFit,
	}
}

// fitRequest is what the flags of fit ask for.
type fitRequest struct {
	pictureFlags
	sheetFlags
	resultFlags
	pointFlags
}

// pointFlags name the control points.
type pointFlags struct {
	points string
	sigma  numberFlag
}

func (q *pointFlags) flags(o *options) {
	q.sigma = numberFlag{value: calib.DefaultSigmaPx, min: 0.001, max: 1000}
	o.StringVar(&q.points, "points", "", "the `FILE` of control points")
	o.Var(&q.sigma, "point-sigma-px", "the standard deviation of a point on each axis, in pixels: `PX` (default 0.7)")
}

func runFit(c command, args []string, s streams) error {
	o := newOptions(c, fitHelp)
	var q fitRequest
	q.pointFlags.flags(o)
	q.sheetFlags.flags(o)
	o.StringVar(&q.picture, "picture", "", "the `FILE` of the picture")
	q.pageFlags(o, "the resolution `N` of the scan in pixels per inch, if known; for a PDF, the resolution to draw it at")
	q.resultFlags.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if err := q.check(); err != nil {
		return err
	}
	result, err := q.calibrate(s)
	return finish(result, err, q.asJSON, s)
}

func (q *fitRequest) check() error {
	switch {
	case q.points == "":
		return usagef("--points is missing: name the file of control points")
	case q.page.value > 0 && q.picture == "":
		return usagef("--page goes with --picture")
	}
	if err := q.sheetFlags.check(); err != nil {
		return err
	}
	_, err := q.grid.need()
	return err
}

// calibrate reads the points and fits them. With an error the result still holds the
// cautions about the points.
func (q *fitRequest) calibrate(s streams) (calibration, error) {
	out := calibration{system: q.grid.system}
	reader := &pointReader{system: out.system, sigmaPx: q.sigma.value, datum: datumOf{own: q.own()}}
	list, err := reader.readPointsFile(q.points, s)
	out.cautions = reader.cautions
	if err != nil {
		return out, err
	}
	if q.picture != "" {
		d, err := look(&q.pictureFlags)
		if err != nil {
			return out, err
		}
		out.header = q.as(d.Header)
	}
	opt := fitOptions(out.header, q.dpi.value)
	opt.Medium = q.as(out.header).Medium
	return out, out.fitTo(list, opt, &q.resultFlags)
}

// fitOptions are those of the fit of a picture; a zero header is of none.
func fitOptions(h scan.Header, dpi float64) calib.Options {
	return calib.Options{Medium: h.Medium, Focal: h.Focal, DPI: dpi, Width: h.Width, Height: h.Height}
}

// fitTo fits control points, judges the fit by the evidence and converts the points
// that were asked for.
func (c *calibration) fitTo(list []calib.ControlPoint, opt calib.Options, q *resultFlags) (err error) {
	c.cautions = append(c.cautions, gridCautions(c.system, list)...)
	if c.fit, err = calib.Fit(list, opt); err != nil {
		c.cautions = append(c.cautions, slipsOf(err)...)
		return err
	}
	evidence, err := q.evidence.read(c.system, calib.DefaultSigmaPx)
	if err != nil {
		return err
	}
	c.verdict = leg.Judge(leg.Single{Calibration: c.fit, System: c.system, Width: c.header.Width, Height: c.header.Height, Evidence: evidence})
	c.cautions = append(c.cautions, c.verdict.CautionsWith(c.fit)...)
	c.positions, err = convert(c.fit, c.system, q.at)
	for i := range c.positions {
		c.positions[i].unsized = c.header.Width == 0
	}
	c.cautions = append(c.cautions, fresh(positionCautions(c.system, c.positions), c.cautions)...)
	return err
}

// slipsOf returns the slips that explain why there is no fit.
func slipsOf(err error) []caution.Caution {
	var unfit *calib.Unfit
	if !errors.As(err, &unfit) {
		return nil
	}
	return unfit.Cautions
}
