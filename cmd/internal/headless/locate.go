package headless

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/georef"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

const locateHelp = `
Takes the grid and the position from the picture's file: GeoTIFF tags, a KML ground
overlay, a PDF's georeference, or a world file with a .prj. --grid names the grid of a
GeoTIFF or world file that names none, or none that the program knows.

The printed lines are then compared with that position. They would agree just as well if the
file were wrong by whole squares or by a factor, or turned or mirrored. So the sheet is
checked only if you --name three intersections that are not in a straight line, and give a latitude and
longitude as --evidence: easting and northing cannot show a wrong zone or projection.

If the lines, a --name or an --evidence disagrees with the file, that is a stop, and trusted
is false everywhere.
` + evidenceHelp + `
--json writes:
  source, grid
  corners [{col,row,easting_m,northing_m,lat_deg,lon_deg}]
  printed_grid {compared,agrees,square_m,intersections,median_px,rms_px,worst_px}: how far
      the intersections are out; or {compared,reason}
` + latticeKeys + calibrationKeys + noFitKeys

func locateCommand() command {
	return command{
		name:  "locate",
		usage: "--picture FILE [--page N] [--dpi N] [--grid GRID] [--name COL,ROW=REF]... [--square METRES] [--evidence SOURCE:COL,ROW=REF]... [--at COL,ROW]... [--json]",
		about: "take a picture's position from its file, and compare it with the printed grid",
		run:   runLocate,
	}
}

// locateRequest is what the flags of locate ask for.
type locateRequest struct {
	pictureFlags
	namingFlags
	resultFlags
	grid gridFlag
}

func runLocate(c command, args []string, s streams) error {
	o := newOptions(c, locateHelp)
	var q locateRequest
	q.pictureFlags.flags(o)
	o.Var(&q.grid, "grid", gridWords+"; only if the file names no known grid")
	q.namingFlags.flags(o)
	q.resultFlags.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if err := q.need(); err != nil {
		return err
	}
	result, err := q.calibrate()
	return finish(result, err, q.asJSON, s)
}

// look reads the header of a picture and what its file carries of the ground.
func look(q *pictureFlags) (scan.GeoData, error) {
	fsys, base := openfile.Picked(q.picture)
	return scan.NewOpener().Look(context.Background(), fsys, base, q.drawing())
}

// worldFault is the caution about a world file that cannot be used.
func worldFault(f georef.Found) []caution.Caution {
	if f.WorldFault == nil {
		return nil
	}
	return []caution.Caution{caution.Of(caution.WorldFile, f.WorldFault.Error())}
}

// fromFile is what locate reports besides the calibration.
type fromFile struct {
	georef  *georef.Georeference
	corners []located
	agree   *lattice.Agreement // nil where no printed grid was found
	why     string             // there is none
}

// agreementWords say whether the printed grid agrees.
func agreementWords(a *lattice.Agreement) string {
	says := "disagrees"
	if a.Agrees() {
		says = "agrees"
	}
	return fmt.Sprintf("the printed grid %s: its intersections are typically %.1f pixels out, and %.1f pixels at most", says, a.RMSPx, a.WorstPx)
}

// calibrate takes the calibration from the file and compares the printed grid with it.
// With an error the result still holds the cautions about the file.
func (q *locateRequest) calibrate() (out calibration, err error) {
	d, err := look(&q.pictureFlags)
	h := d.Header
	out.header = h
	if err != nil {
		return out, err
	}
	p, cautions, err := q.georeference(d)
	out.cautions = append([]caution.Caution{}, cautions...)
	if err != nil {
		return out, err
	}
	if out.fit, err = p.Calibration(h); err != nil {
		return out, err
	}
	out.system, out.file = p.System, &fromFile{georef: p}
	for _, w := range p.Notes {
		out.cautions = append(out.cautions, caution.Of(caution.FileRemark, w))
	}
	w, ht := float64(h.Width), float64(h.Height)
	corners := []calib.PicturePt{{}, {Col: w}, {Col: w, Row: ht}, {Row: ht}}
	if out.file.corners, err = convert(out.fit, out.system, corners); err != nil {
		return out, err
	}
	if out.positions, err = convert(out.fit, out.system, q.at); err != nil {
		return out, err
	}
	out.cautions = append(out.cautions, positionCautions(out.system, slices.Concat(out.file.corners, out.positions))...)
	return out, q.judgeFile(&out)
}

// georeference is that of the file, on the grid of --grid where the file names none.
func (q *locateRequest) georeference(d scan.GeoData) (*georef.Georeference, []caution.Caution, error) {
	f := georef.Find(d)
	switch {
	case q.grid.system == nil && f.WantsGrid():
		return nil, worldFault(f), wantsGrid(f)
	case q.grid.system == nil:
		return f.Georeference, worldFault(f), nil
	}
	if p := f.Georeference; p != nil && p.System != nil {
		return nil, worldFault(f), usagef("the file names its grid itself, %s: do not give --grid", p.System)
	}
	p, err := f.On(q.grid.system)
	return p, worldFault(f), err
}

// wantsGrid says that a file gives coordinates on a grid that is not known.
func wantsGrid(f georef.Found) error {
	why := filepath.Base(f.WorldFile) + " gives coordinates, but names no grid"
	if p := f.Georeference; p != nil {
		why = "the file's georeference cannot be used: " + p.Unknown
	}
	return fmt.Errorf("%s. If you know its grid, name it with --grid", why)
}

// judgeFile compares the file with the printed grid and other evidence.
func (q *locateRequest) judgeFile(out *calibration) error {
	found, cautions, err := searchGrid(context.Background(), &q.pictureFlags)
	if err != nil {
		return err
	}
	out.lattice, out.image = &found, found.image
	out.cautions = append(out.cautions, cautions...)
	lines := out.file.compare(&found, out.fit)
	evidence, cautions, err := q.namedEvidence(out, found.found)
	if err != nil {
		return err
	}
	out.verdict = leg.Judge(leg.Single{
		Calibration: out.fit, System: out.system, Width: out.header.Width, Height: out.header.Height, ByFile: true,
		FileCautions: out.file.georef.Cautions, Evidence: append(evidence, lines...),
	})
	cautions = append(cautions, ofFile(out.file.georef.Cautions, q.picture)...)
	if out.stopped() || len(cautions) > 0 {
		distrust(out.positions)
	}
	out.cautions = append(append(out.cautions, cautions...), out.verdict.CautionsWith(out.fit)...)
	return nil
}

// ofFile is the stop that a picture's file puts on its own georeference, if it does.
func ofFile(text, picture string) []caution.Caution {
	list := caution.Parse(text)
	if !caution.Stops(list, caution.All) {
		return nil
	}
	return []caution.Caution{caution.Of(caution.ImportedStop, strings.Join(caution.Shorts(list), ", ")).About(filepath.Base(picture))}
}

// compare compares the printed lines with the file, and returns lines that disagree as
// evidence.
func (p *fromFile) compare(found *search, c *calib.Calibration) []calib.Evidence {
	if found.found == nil {
		p.why = found.reason
		return nil
	}
	if p.agree, p.why = found.found.Against(c); p.agree == nil || p.agree.Agrees() {
		return nil
	}
	return found.found.Unnamed(p.agree.SquareM)
}

// distrust marks every position on a picture whose file is contradicted.
func distrust(positions []located) {
	for i := range positions {
		positions[i].trusted, positions[i].contradicted = false, true
	}
}

// namedEvidence is the intersections that were named, at the found lines where there
// are any, and other evidence. A side of the squares that is not the file's is a
// caution.
func (q *locateRequest) namedEvidence(c *calibration, l *lattice.Lattice) ([]calib.Evidence, []caution.Caution, error) {
	if a := c.file.agree; a != nil && q.square.value > 0 && q.square.value != a.SquareM {
		return nil, []caution.Caution{caution.Of(caution.SquareDiffers, fmt.Sprintf("%g m", a.SquareM), fmt.Sprintf("%g m", q.square.value))}, nil
	}
	out, err := q.evidence.read(c.system, calib.DefaultSigmaPx)
	if err != nil {
		return nil, nil, err
	}
	for _, n := range q.names {
		e, err := plan.ReadEvidence(calib.FromOwnGrid, n.ref, c.system, nil)
		if err != nil {
			return nil, nil, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		e.At = n.at
		if l != nil {
			x, ok := l.Nearest(n.at)
			if !ok {
				return nil, nil, fmt.Errorf("--name %g,%g: the program found no intersection of the printed grid there; find-grid --json lists those that it found", n.at.Col, n.at.Row)
			}
			e.At = calib.PicturePt{Col: x.Col, Row: x.Row}
		}
		out = append(out, e)
	}
	return out, nil, nil
}

func (p *fromFile) object(o *object, s *geodesy.System) {
	o.add("source", p.georef.Source)
	o.add("grid", string(s.Code()))
	list := make([]object, len(p.corners))
	for i, c := range p.corners {
		list[i] = append(object{{"col", number(c.at.Col)}, {"row", number(c.at.Row)}}, c.object()[:4]...)
	}
	o.add("corners", list)
	printed := object{{"compared", p.agree != nil}}
	if a := p.agree; a != nil {
		printed = append(printed, object{
			{"agrees", a.Agrees()},
			{"square_m", number(a.SquareM)},
			{"intersections", a.Intersections},
			{"median_px", number(a.MedianPx)},
			{"rms_px", number(a.RMSPx)},
			{"worst_px", number(a.WorstPx)},
		}...)
	} else {
		printed.add("reason", p.why)
	}
	o.add("printed_grid", printed)
}

func (p *fromFile) lines(t *table) {
	t.line("from", "%s", p.georef.Source)
	if p.agree != nil {
		t.line("lines", "%s (%d intersections, squares of %g m)", agreementWords(p.agree), p.agree.Intersections, p.agree.SquareM)
	} else {
		t.line("lines", "not compared: %s", p.why)
	}
}
