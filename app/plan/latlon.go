package plan

import (
	"errors"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// ErrNoLatLon is returned for a reference that is not latitude and longitude.
var ErrNoLatLon = errors.New("this is not a latitude and longitude: type it as printed in the margin, such as 56°10'N 6°20'W")

// LatLonPosition is what a latitude and longitude may mean on a grid.
type LatLonPosition struct {
	Grid   geodesy.Grid
	SigmaM float64 // per axis: what the figures leave open, and the datum shift
	Own    bool    // on the grid's own datum; else WGS 84
}

// elsewhereM is how far the positions on two datums must differ to be two, metres.
const elsewhereM = 0.5

// LatLonPositions reads latitude and longitude as evidence of that source. Those printed
// on the map may be on WGS 84 or, where that lies elsewhere, on the grid's own datum,
// for maps seldom say which; whole half-minutes are its lines, and exact where they were typed in minutes. All others
// are on WGS 84 and rounded to their last place. They may lie far off the grid's area:
// the grid may be the wrong one. None: nothing is known of the grid's datum. The errors
// are those of the reference, and ErrNoLatLon.
func LatLonPositions(source calib.EvidenceSource, text string, sys *geodesy.System) ([]LatLonPosition, error) {
	at, ref, err := latLonOf(text, sys)
	if err != nil {
		return nil, err
	}
	onMap := source == calib.FromMargin || source == calib.FromOwnGrid
	_, sigma := ref.Centre()
	if onMap && !strings.Contains(text, ".") { // with decimals it was read between lines, and rounded
		sigma = ref.LineSigma()
	}
	if source == calib.FromReceiver {
		sigma = math.Hypot(sigma, receiverM)
	}
	var out []LatLonPosition
	g, _, shift, err := sys.FromWGS84(at)
	if err == nil && !shift.Unknown {
		out = append(out, LatLonPosition{Grid: g, SigmaM: math.Hypot(sigma, shift.SigmaM)})
	}
	if !onMap {
		return out, err
	}
	own, _, errOwn := sys.Project(at)
	if errOwn == nil && (len(out) == 0 || math.Hypot(own.E-g.E, own.N-g.N) >= elsewhereM) {
		out = append(out, LatLonPosition{Grid: own, SigmaM: sigma, Own: true})
	}
	return out, errors.Join(err, errOwn)
}

// latLonOf returns the latitude and longitude of a text, and how it was typed. What
// lies far off the grid's area is read all the same.
func latLonOf(text string, sys *geodesy.System) (at geodesy.LatLon, ref geodesy.Ref, err error) {
	ref, err = geodesy.ParseRef(text, geodesy.RefContext{System: sys})
	if far, errFar := geodesy.ParseRef(text, geodesy.RefContext{}); err != nil && errFar == nil && far.Kind == geodesy.RefLatLon {
		ref, err = far, nil
	}
	switch {
	case err != nil:
		return at, ref, err
	case ref.Kind != geodesy.RefLatLon:
		return at, ref, ErrNoLatLon
	}
	at, _, err = ref.System.ToWGS84(ref.Grid) // as it was typed
	return at, ref, err
}
