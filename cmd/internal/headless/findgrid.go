package headless

import (
	"context"

	"legwright/app/calib"
)

const findGridHelp = `
Looks for the grid lines printed on a picture. Without --name it reports what it found,
and needs no --grid. Name an intersection, and every intersection becomes a control
point:
  two names give the width of a square, by the number of lines between them;
  one name needs --square METRES, the width of a grid square as printed in the margin.

The reference must be on grid lines. If you misread it by a square, all intersections are
wrong by the same amount and still fit: check the sheet with --evidence.

With --graticule MINUTES the lines are those of latitude and longitude, that many minutes
apart. Name one intersection, such as --name "1204,838=56°10'N 6°20'W", and all others
follow.

A PDF page is drawn first: at --dpi pixels per inch, or else as finely as its pictures, or
at 200 if it has none. Columns and rows are counted in that drawing; a caution gives its
size.
` + evidenceHelp + `
--json writes:
` + latticeKeys + `  With --name also:
` + calibrationKeys + noFitKeys

// latticeKeys are the JSON keys of a printed grid.
const latticeKeys = `  lattice {found,seconds,square_px,angle_deg,oblong,support,graticule_min,square_m,
      intersections [{col,row,i,j,quality,sigma_px,easting_m,northing_m}]}: i counts lines
      to the right and j upwards, each from some line of the grid; if oblong is true, the
      lines may be latitude and longitude. If no grid was found: lattice
      {found,seconds,reason,intersections []}
`

func findGridCommand() command {
	return command{
		name:  "find-grid",
		usage: "--picture FILE [--page N] [--dpi N] [--grid GRID --name COL,ROW=REF... [--square METRES | --graticule MINUTES] [--datum own|wgs84] [--medium scan|photograph|drawn] [--evidence SOURCE:COL,ROW=REF]... [--at COL,ROW]...] [--json]",
		about: "find the printed grid in a picture, and calibrate from it",
		run:   runFindGrid,
	}
}

// findGridRequest is what the flags of find-grid ask for.
type findGridRequest struct {
	pictureFlags
	sheetFlags
	namingFlags
	resultFlags
	graticule graticuleFlag
}

func runFindGrid(c command, args []string, s streams) error {
	o := newOptions(c, findGridHelp)
	var q findGridRequest
	q.pictureFlags.flags(o)
	q.sheetFlags.flags(o)
	q.namingFlags.flags(o)
	q.graticule.flags(o)
	q.resultFlags.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if err := q.check(); err != nil {
		return err
	}
	if len(q.names) == 0 {
		found, cautions, err := searchGrid(context.Background(), &q.pictureFlags)
		if err != nil {
			return err
		}
		return writeSearch(&found, cautions, q.asJSON, s)
	}
	result, err := q.calibrate()
	return finish(result, err, q.asJSON, s)
}

func (q *findGridRequest) check() error {
	if err := q.pictureFlags.need(); err != nil {
		return err
	}
	switch named := len(q.names) > 0; {
	case q.graticule.given() && (!named || q.square.value > 0):
		return usagef("--graticule needs a --name in latitude and longitude, and no --square")
	case !named && (len(q.evidence) > 0 || len(q.at) > 0 || q.square.value > 0):
		return usagef("--name is missing: name an intersection to calibrate the sheet, such as --name 1204,838=NL230430")
	case !named:
		return nil
	}
	if err := q.sheetFlags.check(); err != nil {
		return err
	}
	_, err := q.grid.need()
	return err
}

// calibrate finds the grid, names its intersections and fits them. With an error the
// result still holds the cautions about them.
func (q *findGridRequest) calibrate() (calibration, error) {
	out := calibration{system: q.grid.system}
	found, cautions, err := searchGrid(context.Background(), &q.pictureFlags)
	out.cautions = cautions
	if err != nil {
		return out, err
	}
	found.header = q.as(found.header)
	out.lattice, out.header, out.image = &found, found.header, found.image
	var points []calib.ControlPoint
	if q.graticule.given() {
		points, cautions, err = found.latitudes(q.names, q.graticule, out.system, q.own())
	} else if cautions, err = found.name(q.names, out.system, q.own()); err == nil {
		points, err = found.points(q.square.value, out.system, found.header.Medium)
	}
	out.cautions, out.intersections = append(out.cautions, cautions...), points
	if err != nil {
		return out, err
	}
	dpi := q.dpi.value
	return out, out.fitTo(points, fitOptions(found.header, dpi), &q.resultFlags)
}
