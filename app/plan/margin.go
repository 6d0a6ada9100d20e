package plan

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// MarginPlaces is LatLonPlaces for what a margin prints.
func (s Sheet) MarginPlaces(text string) ([]LatLonPlace, error) {
	sys, err := geodesy.Lookup(s.Code)
	if err != nil {
		return nil, err
	}
	return LatLonPlaces(calib.FromMargin, text, sys)
}

// ByGridReferences reports whether all control points of a sheet are grid
// references: none was typed as latitude and longitude, none is a crossing of
// such lines, and no file gave them.
func (s Sheet) ByGridReferences() bool {
	sys, err := geodesy.Lookup(s.Code)
	if err != nil || len(s.Points) == 0 || s.PlacedByFile() {
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
func (s Sheet) MarginMisread(c *calib.Calibration, p calib.ControlPoint, places []LatLonPlace, taken int) string {
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
