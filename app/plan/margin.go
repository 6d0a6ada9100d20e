package plan

import (
	"errors"
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ErrNoLatLon is returned for a reference that is not latitude and longitude.
var ErrNoLatLon = errors.New("this is no latitude and longitude: type what the margin prints, such as 56°10'N 6°20'W")

// MarginPlace is what a printed latitude and longitude may mean on the sheet's
// grid.
type MarginPlace struct {
	Grid   geodesy.Grid
	SigmaM float64 // per axis: what the figures leave open, and the datum shift
	Own    bool    // on the grid's own datum; else WGS 84
}

// elsewhereM is how far the places on two datums must differ to be two, metres.
const elsewhereM = 0.5

// MarginPlaces reads latitude and longitude as a margin prints them: on WGS 84
// and, where that lies elsewhere, on the grid's own datum, for margins seldom
// say which. Whole half-minutes are lines of the map and exact; other figures
// are rounded to their last place. The errors are those of the reference, and
// ErrNoLatLon.
func (s Sheet) MarginPlaces(text string) ([]MarginPlace, error) {
	sys, err := geodesy.Lookup(s.Code)
	if err != nil {
		return nil, err
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: sys})
	if err != nil {
		return nil, err
	}
	if ref.Kind != geodesy.RefLatLon {
		return nil, ErrNoLatLon
	}
	at, shift, err := sys.ToWGS84(ref.Grid) // as it was typed
	if err != nil {
		return nil, err
	}
	sigma := roundedM(at, ref.StepDeg)
	var out []MarginPlace
	if !shift.Unknown {
		out = append(out, MarginPlace{Grid: ref.Grid, SigmaM: math.Hypot(sigma, shift.SigmaM)})
	}
	own, _, err := sys.Project(at)
	if err == nil && (len(out) == 0 || math.Hypot(own.E-ref.Grid.E, own.N-ref.Grid.N) >= elsewhereM) {
		out = append(out, MarginPlace{Grid: own, SigmaM: sigma, Own: true})
	}
	return out, err
}

// roundedM is the σ per axis, in metres, of a latitude and longitude that were
// rounded to a step, the coarser axis for both; 0 for whole half-minutes.
func roundedM(at geodesy.LatLon, stepDeg float64) float64 {
	const near = 1e-5 // minutes: what the way to the grid and back may leave
	whole := func(deg float64) bool { return math.Abs(math.Remainder(60*deg, roundMinutes)) < near }
	if whole(at.Lat.Deg()) && whole(at.Lon.Deg()) {
		return 0
	}
	return stepDeg * 60 * metresAMinute / math.Sqrt(12)
}

// ByGridReferences reports whether all control points of a sheet are grid
// references: none was typed as latitude and longitude, none is a crossing of
// such lines, and no file gave them.
func (s Sheet) ByGridReferences() bool {
	sys, err := geodesy.Lookup(s.Code)
	if err != nil || len(s.Points) == 0 || s.Fit == calib.Given || s.PlacedByFile() {
		return false
	}
	for _, p := range s.Points {
		ref, err := geodesy.ParseRef(p.Text, geodesy.RefContext{System: sys, Near: &p.Ref})
		if err == nil && ref.Kind == geodesy.RefLatLon {
			return false
		}
		for _, k := range graticulesOf(sys) {
			if k(p.Ref, onLineM) {
				return false
			}
		}
	}
	return true
}

// MarginMisread says why the place of a printed latitude and longitude proves
// nothing though places[taken] agrees: on the other datum it would agree with a
// sheet of which all lines were misread alike. It is "" where there is nothing
// against it. p is where the place was clicked, and with what σ.
func (s Sheet) MarginMisread(c *calib.Calibration, p calib.ControlPoint, places []MarginPlace, taken int) string {
	for i, m := range places {
		p.Ref, p.SigmaRefM = m.Grid, m.SigmaM
		if i != taken && c.AgreesMisread(p) {
			return fmt.Sprintf("it agrees %s; but %s it would agree too if all control points had been read the same number of printed lines too far. "+
				"Take a trig pillar, a church or another feature whose reference comes from elsewhere", onDatum(places[taken].Own), onDatum(m.Own))
		}
	}
	return ""
}

func onDatum(own bool) string {
	if own {
		return "on the grid's own datum"
	}
	return "on WGS 84"
}

// marginFault returns why the latitude and longitude that were typed off the margin
// do not check a sheet calibrated by grid references, or "" if they do.
func (s Sheet) marginFault(c *calib.Calibration, p calib.ControlPoint) string {
	places, err := s.MarginPlaces(p.Text)
	if err != nil {
		return noMargin(p.Text)
	}
	for i, m := range places {
		off := math.Hypot(m.Grid.E-p.Ref.E, m.Grid.N-p.Ref.N)
		if off <= 1+2*m.SigmaM && p.SigmaRefM <= m.SigmaM+1 {
			return s.MarginMisread(c, p, places, i)
		}
	}
	return noMargin(p.Text)
}

func noMargin(text string) string {
	return fmt.Sprintf("“%s” is not the latitude and longitude of the position that proved it", text)
}
