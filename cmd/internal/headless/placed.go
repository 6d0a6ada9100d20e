package headless

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// lookAt reads the header of a picture and what its file says about where it
// lies. A world file that cannot be used is a caution.
func lookAt(name string, o scan.Options) (scan.Header, *scan.Place, []caution.Caution, error) {
	fsys, base := openfile.Picked(name)
	h, p, err := scan.NewOpener().Look(context.Background(), fsys, base, o)
	if err != nil {
		return h, nil, nil, err
	}
	if _, _, err := scan.FindWorld(fsys, base, h); err != nil {
		return h, p, []caution.Caution{caution.Of(caution.WorldFile, err.Error())}, nil
	}
	return h, p, nil, nil
}

// placed is what --auto tells beside the calibration.
type placed struct {
	place   *scan.Place
	corners []place
	agree   *lattice.Agreement  // nil where no printed grid was found
	why     string              // there is none
	proves  bool                // the crossings that were named prove the file's place
	unseen  string              // what they do not show
	against calib.Contradiction // what the printed grid says against the file's place
	differs bool                // a crossing that was named lies elsewhere by the file
}

// agreementWords say whether the printed grid agrees.
func agreementWords(a *lattice.Agreement) string {
	if a.Agrees() {
		return fmt.Sprintf("the printed grid agrees within %.1f px", a.RMSPx)
	}
	return fmt.Sprintf("the printed grid does not agree: its crossings lie %.1f px off (root mean square), %.1f px at the worst", a.RMSPx, a.WorstPx)
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
	for _, w := range p.Warnings {
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
	found, cautions, err := findGrid(context.Background(), q.picture, q.drawing())
	if err != nil {
		return out, err
	}
	out.lattice, out.image = &found, found.image
	out.cautions = append(out.cautions, cautions...)
	if found.found == nil {
		out.placed.why = found.reason
	} else {
		out.placed.agree, out.placed.why = found.found.Against(out.fit)
		out.placed.against = found.found.Contradiction(out.fit)
	}
	if p.Contradicted != "" && out.placed.agree == nil {
		out.placed.against = calib.Contradiction{Detail: p.Contradicted}
	}
	cautions, err = out.placed.holdNames(q.names, q.square.value, found.found, out.fit, out.system)
	if err != nil {
		return out, err
	}
	if out.placed.against.Found() || out.placed.differs {
		distrust(out.places)
	}
	out.cautions = append(append(out.cautions, cautions...), out.placed.ownCautions(out.fit)...)
	return out, nil
}

// distrust takes the trust from every place of a picture whose file is
// contradicted.
func distrust(places []place) {
	for i := range places {
		places[i].trusted, places[i].contradicted = false, true
	}
}

// holdNames compares the references of named crossings, read off the map by a
// person, with the file's.
func (p *placed) holdNames(names nameFlag, squareM float64, l *lattice.Lattice, c *calib.Calibration, s *geodesy.System) ([]caution.Caution, error) {
	if p.agree != nil && squareM > 0 && squareM != p.agree.SquareM {
		return []caution.Caution{caution.Of(caution.SquareDiffers, fmt.Sprintf("%g m", p.agree.SquareM), fmt.Sprintf("%g m", squareM))}, nil
	}
	read := make([]lattice.Name, 0, len(names))
	for _, n := range names {
		ref, err := geodesy.ParseRef(n.ref, geodesy.RefContext{System: s})
		if err != nil {
			return nil, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		if l == nil {
			continue
		}
		if _, ok := l.Nearest(n.at); !ok {
			return nil, fmt.Errorf("--name %g,%g: no crossing of the printed grid lies there", n.at.Col, n.at.Row)
		}
		read = append(read, lattice.Name{At: n.at, Ref: ref.Grid})
	}
	if l == nil {
		return nil, nil
	}
	proves, err := l.Proves(c, read)
	var differs *lattice.Differs
	if errors.As(err, &differs) {
		p.differs = true
		return []caution.Caution{caution.Of(caution.CrossingAstray, names[differs.I].ref, fmt.Sprintf("%.0f m", differs.OffM))}, nil
	}
	p.proves = proves
	p.unseen = calib.Proof{Kind: calib.ProofPrintedGrid}.Unseen(c.MetresPerPixel())
	return nil, err
}

// ownCautions are the fit's own cautions, and what keeps the sheet unchecked.
func (p *placed) ownCautions(c *calib.Calibration) []caution.Caution {
	out := c.Cautions()
	if p.proves {
		return out
	}
	if p.against.Found() {
		out = append(out, caution.Of(caution.FileDisagrees, p.against.Detail))
	}
	return append(out, caution.Of(caution.Unchecked))
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
			{"crossings", a.Crossings},
			{"median_px", number(a.MedianPx)},
			{"rms_px", number(a.RMSPx)},
			{"worst_px", number(a.WorstPx)},
		}...)
	} else {
		printed.add("reason", p.why)
	}
	o.add("printed_grid", printed)
	if p.proves {
		o.add("proof", "printed grid as named")
		o.add("proof_unseen", p.unseen)
	} else {
		o.add("proof", nil)
	}
}

func (p *placed) lines(t *table) {
	t.line("from", "%s", p.place.Source)
	if p.agree != nil {
		t.line("lines", "%s (%d crossings, squares of %g m)", agreementWords(p.agree), p.agree.Crossings, p.agree.SquareM)
	} else {
		t.line("lines", "not compared: %s", p.why)
	}
	switch {
	case p.proves:
		t.line("proof", "the printed grid is where the file has it, by the crossings you named")
		t.line("", "%s", p.unseen)
	case p.agree == nil:
		t.line("proof", "none: no printed lines could be held against the file. At the post Sheet a feature of known reference can prove it")
	case !p.agree.Agrees():
		t.line("proof", "none: the printed grid contradicts the file. Calibrate by the grid instead: --find-grid")
	default:
		t.line("proof", "none yet: read the figures of %d crossings that are not in one line off the map, and say --name COL,ROW=REF for each", calib.NamesForProof)
	}
}
