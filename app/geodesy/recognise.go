package geodesy

import (
	"math"

	"legwright/app/geodesy/crs"
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// sameGridM is how far apart, in metres, two drawings of one grid may be: rounded digits
// in a definition make less.
const sameGridM = 1e-4

// inCatalogue returns the grid of the catalogue with these parameters, or nil. It is an
// error if the text names a code of the catalogue but defines another grid.
func inCatalogue(def *Definition, proj proj.Projection) (*System, error) {
	if s, err := byNumber(def.EPSG); err == nil && def.EPSG != 0 {
		if sameParameters(def, s, proj) && !otherDatum(def, s) {
			return s, nil
		}
		return nil, crs.Bad("the definition says it is EPSG:%d, %s, but its numbers or its datum differ from that grid's: give the code alone, or delete the code", def.EPSG, s.withArticle())
	}
	var best *System
	for _, s := range catalogue().list { // the parameters first: most differ at once
		if !sameParameters(def, s, proj) || !sameBase(def, s) {
			continue
		}
		if best == nil || s.area.Size() > best.area.Size() {
			best = s
		}
	}
	return best, nil
}

// sameBase compares the datum of the text with a grid's own. A datum without a name may be
// that of any grid with the same shift.
func sameBase(def *Definition, s *System) bool {
	switch {
	case def.Known != nil:
		return def.Known.Geographic == s.own
	case def.DatumName != "" || def.ShiftFile != "":
		return false
	case def.ToWGS84 != nil && !def.ZeroShift():
		return sameShift(def, s)
	case def.ToWGS84 != nil:
		return !otherDatum(def, s)
	}
	_, like := s.datum.(datum.Like)
	return like && def.LikeWGS84() || s.unmistakable()
}

// otherDatum reports whether the text's datum contradicts a grid's: it is another
// known one, or its shift is another. A stated shift of zero belongs to WGS 84 and datums
// like it; next to the name of a datum it is only a filler.
func otherDatum(def *Definition, s *System) bool {
	_, like := s.datum.(datum.Like)
	switch {
	case def.Known != nil:
		return def.Known.Geographic != s.own
	case def.ToWGS84 == nil, def.ZeroShift() && def.DatumName != "":
		return false
	case def.ZeroShift():
		return !like || !def.LikeWGS84()
	}
	return !sameShift(def, s)
}

// unmistakable reports whether no grid on another datum has the same parameters, so that a
// definition may leave the datum out: countries' own grids except Germany's, whose zones
// exist on other datums too.
func (s *System) unmistakable() bool {
	_, like := s.datum.(datum.Like)
	return !like && s.rank == rankOwn && s.own != 4314 && s.zone == 0
}

// sameShift compares TOWGS84 with the shift of a grid, to sameShiftM on the ground.
func sameShift(def *Definition, s *System) bool {
	b := s.area[0]
	ll := DegLatLon((b.South+b.North)/2, (b.West+b.East)/2)
	own, _, err := s.Project(ll)
	if err != nil {
		return false
	}
	theirs, shift, err := s.ToWGS84(own)
	if err != nil || shift.SigmaM > 3 {
		return false
	}
	twin := *s
	twin.datum = def.StatedShift()
	ours, _, err := twin.ToWGS84(own)
	return err == nil && math.Hypot(float64(ours.Lat-theirs.Lat), float64(ours.Lon-theirs.Lon))*s.ellipsoid.A < sameShiftM
}

// sameShiftM is how far apart, in metres on the ground, two shifts of one datum may be: that
// of Great Britain by seven parameters is off by up to 3.5 m.
const sameShiftM = 4

// sameParameters compares the coordinates of five positions in the grid's area.
func sameParameters(def *Definition, s *System, proj proj.Projection) bool {
	if !crs.SameEllipsoid(def.Ellipsoid, s.ellipsoid) || math.Abs(def.Unit.Metres-s.Unit().Metres) > 1e-9*def.Unit.Metres {
		return false
	}
	b := s.area[0]
	dLat, dLon := b.North-b.South, b.East-b.West
	if dLon < 0 {
		dLon += 360
	}
	for _, at := range [...][2]float64{{0.5, 0.5}, {0.1, 0.1}, {0.9, 0.2}, {0.2, 0.9}, {0.85, 0.8}} {
		lat, lon := rad(b.South+at[0]*dLat), earth.WrapLon(rad(b.West+at[1]*dLon))
		got, errGot := proj.Forward(lat, lon)
		want, errWant := s.proj.Forward(lat, lon)
		if (errGot == nil) != (errWant == nil) {
			return false
		}
		if errGot == nil && math.Hypot(got.E-want.E, got.N-want.N) > sameGridM {
			return false
		}
	}
	return true
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }
