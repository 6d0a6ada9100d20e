package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// WithEvidence returns the sheet with one more piece of evidence.
func (s Sheet) WithEvidence(e calib.Evidence) Sheet {
	s.Evidence = append(slices.Clone(s.Evidence), e)
	return s
}

// WithoutEvidence returns the sheet without evidence i, counted from 0. An index
// outside the list changes nothing.
func (s Sheet) WithoutEvidence(i int) Sheet {
	if i >= 0 && i < len(s.Evidence) {
		s.Evidence = slices.Delete(slices.Clone(s.Evidence), i, i+1)
	}
	return s
}

// Remembering returns the plan with what checked says of each sheet, for its file.
func (p *Plan) Remembering(checked func(ID) bool) *Plan {
	return p.with(func(q *Plan) {
		q.Sheets = slices.Clone(p.Sheets)
		for i, s := range q.Sheets {
			q.Sheets[i].WasChecked = checked(s.ID)
		}
	})
}

// StampSaved returns the plan with when it is written to its file, to the second, by the clock of
// its time zone or, without one, in UTC.
func (p *Plan) StampSaved(at time.Time) *Plan {
	zone := p.Timing.Location()
	if zone == nil {
		zone = time.UTC
	}
	return p.with(func(q *Plan) { q.Saved = at.In(zone).Truncate(time.Second) })
}

// Noted returns the plan with sentences for people about how it was read.
func (p *Plan) Noted(sentences []string) *Plan {
	return p.with(func(q *Plan) { q.Mended = append(slices.Clone(p.Mended), sentences...) })
}

// WithoutFoundLines returns the sheet without the evidence of printed lines
// that the program found and nobody named.
func (s Sheet) WithoutFoundLines() Sheet {
	s.Evidence = slices.DeleteFunc(slices.Clone(s.Evidence), func(e calib.Evidence) bool { return e.SquareM > 0 })
	return s
}

// intersectionM is the side of a square of which a reference read off the map's own
// grid means an intersection of printed lines, and not a feature: nobody reads those
// coarser (common practice, no source).
const intersectionM = 500

// ReadEvidence reads a typed reference as evidence of that source for a sheet on a
// grid: latitude and longitude, an intersection of the map's own lines, or a feature,
// which lies somewhere in the reference's square. near supplies letters that were
// omitted; nil: none. The error is that of the reference.
func ReadEvidence(source calib.EvidenceSource, text string, sys *geodesy.System, near *geodesy.Grid) (calib.Evidence, error) {
	e := calib.Evidence{Source: source, Text: text}
	if source == calib.FromTerrain {
		return e, errTerrain
	}
	if positions, err := LatLonPositions(source, text, sys); err == nil && len(positions) > 0 {
		e.LatLon, e.Ref, e.SigmaRefM = true, positions[0].Grid, positions[0].SigmaM
		return e, nil
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: sys, Near: near})
	if err != nil {
		return e, err
	}
	if ref.Kind == geodesy.RefLatLon {
		return e, ErrUnknownDatum
	}
	e.Ref, e.SigmaRefM = ref.Centre()
	if AtIntersection(source, ref) {
		e.Ref, e.SigmaRefM = ref.Grid, 0
	}
	if source == calib.FromReceiver {
		e.SigmaRefM = math.Hypot(e.SigmaRefM, receiverM)
	}
	return e, nil
}

// ErrUnknownDatum is returned for latitude and longitude on a grid of whose datum
// nothing is known.
var ErrUnknownDatum = errors.New("the grid's datum is not known, so latitude and longitude cannot be converted to this grid: choose the grid by its name")

var errTerrain = errors.New("a contour's height is not a reference: type the height in metres in the Sheet panel")

// Heights that a contour may have, in metres.
const (
	lowestM  = -500
	highestM = 9000
)

// ReadHeight reads a height in metres as it is read off a contour: "250" or "250 m".
func ReadHeight(text string) (float64, error) {
	body := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(strings.ReplaceAll(text, "−", "-")), "m"))
	m, err := strconv.ParseFloat(strings.ReplaceAll(body, ",", "."), 64)
	if err != nil || !(m >= lowestM && m <= highestM) {
		return 0, fmt.Errorf("%q is not a height: type the contour's height in metres, from −%d to %d, such as 250", text, -lowestM, highestM)
	}
	return m, nil
}

// receiverM is the standard deviation per axis of a satellite receiver in the open, in
// metres (common practice, no source).
const receiverM = 5

// AtIntersection says whether a reference from that source is read at an intersection of
// the map's own lines, where it means the south-west corner of its square. That of a
// feature means the middle.
func AtIntersection(source calib.EvidenceSource, r geodesy.Ref) bool {
	return source == calib.FromOwnGrid && (r.SquareM >= intersectionM ||
		math.Abs(math.Remainder(r.Grid.E, intersectionM)) <= onLineM && math.Abs(math.Remainder(r.Grid.N, intersectionM)) <= onLineM)
}

func badEvidence(list []calib.Evidence) string {
	if len(list) > MaxEvidence {
		return fmt.Sprintf("it has %d checks; at most %d are allowed", len(list), MaxEvidence)
	}
	for i, e := range list {
		why := e.Fault()
		if why == "" {
			why = badText(e.Text, "reference", MaxName, false)
		}
		if why == "" && math.Max(math.Abs(e.Ref.E), math.Abs(e.Ref.N)) > maxCoordM {
			why = "its coordinates are not on any grid"
		}
		if why != "" {
			return fmt.Sprintf("check %d: %s", i+1, why)
		}
	}
	return ""
}
