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

// lookAt reads the header of a picture and what its file says about where it
// lies. A world file that cannot be used is a caution.
func lookAt(name string, o scan.Options) (scan.Header, *georef.Georeference, []caution.Caution, error) {
	fsys, base := openfile.Picked(name)
	d, err := scan.NewOpener().Look(context.Background(), fsys, base, o)
	if err != nil {
		return d.Header, nil, nil, err
	}
	f := georef.Find(d)
	if f.WorldFault != nil {
		return d.Header, f.Georeference, []caution.Caution{caution.Of(caution.WorldFile, f.WorldFault.Error())}, nil
	}
	return d.Header, f.Georeference, nil, nil
}

// placed is what --auto tells beside the calibration.
type placed struct {
	place   *georef.Georeference
	corners []place
	agree   *lattice.Agreement // nil where no printed grid was found
	why     string             // there is none
}

// agreementWords say whether the printed grid agrees.
func agreementWords(a *lattice.Agreement) string {
	if a.Agrees() {
		return fmt.Sprintf("the printed grid agrees within %.1f px", a.RMSPx)
	}
	return fmt.Sprintf("the printed grid does not agree: its intersections lie %.1f px off (root mean square), %.1f px at the worst", a.RMSPx, a.WorstPx)
}

// autoCalibrate takes the calibration from the file and holds it against the
// printed grid.
func (q *calibrateRequest) autoCalibrate() (out calibration, err error) {
	h, p, cautions, err := lookAt(q.picture, q.drawing())
	out.cautions, out.header = append([]caution.Caution{}, cautions...), h
	if err != nil {
		return out, err
	}
	if out.fit, err = p.Calibration(h); err != nil {
		return out, err
	}
	out.system, out.placed = p.System, &placed{place: p}
	for _, w := range p.Notes {
		out.cautions = append(out.cautions, caution.Of(caution.FileRemark, w))
	}
	w, ht := float64(h.Width), float64(h.Height)
	corners := []calib.PicturePt{{}, {Col: w}, {Col: w, Row: ht}, {Row: ht}}
	if out.placed.corners, err = placesOf(out.fit, out.system, corners); err != nil {
		return out, err
	}
	if out.places, err = placesOf(out.fit, out.system, q.at); err != nil {
		return out, err
	}
	out.cautions = append(out.cautions, placeCautions(out.system, slices.Concat(out.placed.corners, out.places))...)
	return out, q.judgeFile(&out)
}

// judgeFile compares the file with the printed grid and other evidence.
func (q *calibrateRequest) judgeFile(out *calibration) error {
	found, cautions, err := findGrid(context.Background(), q.picture, q.drawing())
	if err != nil {
		return err
	}
	out.lattice, out.image = &found, found.image
	out.cautions = append(out.cautions, cautions...)
	lines := out.placed.compare(&found, out.fit)
	evidence, cautions, err := q.namedEvidence(out, found.found)
	if err != nil {
		return err
	}
	out.verdict = leg.Judge(leg.Single{
		Calibration: out.fit, System: out.system, Width: out.header.Width, Height: out.header.Height, ByFile: true,
		FileCautions: out.placed.place.Cautions, Evidence: append(evidence, lines...),
	})
	cautions = append(cautions, ofFile(out.placed.place.Cautions, q.picture)...)
	if out.stopped() || len(cautions) > 0 {
		distrust(out.places)
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

// compare compares the printed lines with the file, and returns those that disagree as
// evidence.
func (p *placed) compare(found *search, c *calib.Calibration) []calib.Evidence {
	if found.found == nil {
		p.why = found.reason
		return nil
	}
	if p.agree, p.why = found.found.Against(c); p.agree == nil || p.agree.Agrees() {
		return nil
	}
	return found.found.Unnamed(p.agree.SquareM)
}

// distrust takes the trust from every place of a picture whose file is
// contradicted.
func distrust(places []place) {
	for i := range places {
		places[i].trusted, places[i].contradicted = false, true
	}
}

// namedEvidence is the intersections that were named, at the found lines where there
// are any, and other evidence. A side of the squares that is not the file's is a
// caution.
func (q *calibrateRequest) namedEvidence(c *calibration, l *lattice.Lattice) ([]calib.Evidence, []caution.Caution, error) {
	if a := c.placed.agree; a != nil && q.square.value > 0 && q.square.value != a.SquareM {
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
				return nil, nil, fmt.Errorf("--name %g,%g: no intersection of the printed grid lies there", n.at.Col, n.at.Row)
			}
			e.At = calib.PicturePt{Col: x.Col, Row: x.Row}
		}
		out = append(out, e)
	}
	return out, nil, nil
}

func (p *placed) object(o *object, s *geodesy.System) {
	o.add("source", p.place.Source)
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
			{"crossings", a.Intersections},
			{"median_px", number(a.MedianPx)},
			{"rms_px", number(a.RMSPx)},
			{"worst_px", number(a.WorstPx)},
		}...)
	} else {
		printed.add("reason", p.why)
	}
	o.add("printed_grid", printed)
}

func (p *placed) lines(t *table) {
	t.line("from", "%s", p.place.Source)
	if p.agree != nil {
		t.line("lines", "%s (%d intersections, squares of %g m)", agreementWords(p.agree), p.agree.Intersections, p.agree.SquareM)
	} else {
		t.line("lines", "not compared: %s", p.why)
	}
}
