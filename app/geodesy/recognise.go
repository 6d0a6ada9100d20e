package geodesy

import "math"

// sameGridM is how far two grids may part and be taken for the same: the digits
// that a definition is written with make less.
const sameGridM = 1e-4

// inCatalogue returns the grid of the catalogue that has these figures, nil
// where there is none, and an error where the text names a code of the
// catalogue and spells out something else.
func inCatalogue(def *Definition, proj projection) (*System, error) {
	if s, err := byNumber(def.epsg); err == nil && def.epsg != 0 {
		if sameFigures(def, s, proj) && !otherDatum(def, s) {
			return s, nil
		}
		return nil, badDefinition("the definition calls itself EPSG:%d, the %s, but its numbers or its datum differ from that grid's: give the code alone, or delete it", def.epsg, s.name)
	}
	var best *System
	for _, s := range catalogue().list { // the figures first: most differ at once
		if !sameFigures(def, s, proj) || !sameBase(def, s) {
			continue
		}
		if best == nil || s.area.size() > best.area.size() {
			best = s
		}
	}
	return best, nil
}

// sameBase holds the datum of the text against a grid's own. A datum that is
// not named may be that of any grid with the same shift: of several, the one of
// the largest area is taken.
func sameBase(def *Definition, s *System) bool {
	switch {
	case def.known != nil:
		return def.known.geographic == s.own
	case def.datumName != "" || def.shiftFile != "":
		return false
	case def.toWGS84 != nil && !def.zeroShift():
		return sameShift(def, s)
	case def.toWGS84 != nil:
		return !otherDatum(def, s)
	}
	_, like := s.datum.(sameDatum)
	return like && def.likeWGS84() || s.unmistakable()
}

// otherDatum reports whether the text's datum contradicts a grid's: it is another
// known one, or its shift is. A stated shift of zero is WGS 84's and of the datums
// like it; beside the name of a datum it is only a filler.
func otherDatum(def *Definition, s *System) bool {
	_, like := s.datum.(sameDatum)
	switch {
	case def.known != nil:
		return def.known.geographic != s.own
	case def.toWGS84 == nil, def.zeroShift() && def.datumName != "":
		return false
	case def.zeroShift():
		return !like || !def.likeWGS84()
	}
	return !sameShift(def, s)
}

// unmistakable reports whether the grid's figures are those of no other datum,
// so that a definition may leave the datum out: countries' own grids, but for
// Germany's, whose zones are drawn alike on other datums.
func (s *System) unmistakable() bool {
	_, like := s.datum.(sameDatum)
	return !like && s.rank == rankOwn && s.own != 4314 && s.zone == 0
}

// sameShift holds TOWGS84 against the shift of a grid, to 1 m on the ground.
func sameShift(def *Definition, s *System) bool {
	b := s.area[0]
	ll := DegLatLon((b.south+b.north)/2, (b.west+b.east)/2)
	own, _, err := s.Project(ll)
	if err != nil {
		return false
	}
	theirs, shift, err := s.ToWGS84(own)
	if err != nil || shift.SigmaM > 3 {
		return false
	}
	twin := *s
	twin.datum = def.statedShift()
	ours, _, err := twin.ToWGS84(own)
	return err == nil && math.Hypot(float64(ours.Lat-theirs.Lat), float64(ours.Lon-theirs.Lon))*s.ellipsoid.A < sameShiftM
}

// sameShiftM is how far two shifts of one datum may part on the ground: that of
// Great Britain by seven figures is off by up to 3.5 m.
const sameShiftM = 4

// sameFigures compares the drawing of five places in the grid's area.
func sameFigures(def *Definition, s *System, proj projection) bool {
	if !sameEllipsoid(def.Ellipsoid, s.ellipsoid) || math.Abs(def.Unit.Metres-s.Unit().Metres) > 1e-9*def.Unit.Metres {
		return false
	}
	b := s.area[0]
	dLat, dLon := b.north-b.south, b.east-b.west
	if dLon < 0 {
		dLon += 360
	}
	for _, at := range [...][2]float64{{0.5, 0.5}, {0.1, 0.1}, {0.9, 0.2}, {0.2, 0.9}, {0.85, 0.8}} {
		lat, lon := rad(b.south+at[0]*dLat), wrapLon(rad(b.west+at[1]*dLon))
		got, errGot := proj.forward(lat, lon)
		want, errWant := s.proj.forward(lat, lon)
		if (errGot == nil) != (errWant == nil) {
			return false
		}
		if errGot == nil && math.Hypot(got.e-want.e, got.n-want.n) > sameGridM {
			return false
		}
	}
	return true
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }
