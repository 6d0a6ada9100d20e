package geodesy

import (
	"math"
	"strings"
)

// onDatum sets the datum. A stated shift takes precedence over the known datum only
// if ownShiftCounts.
func (def *Definition) onDatum(d NamedDatum) error {
	def.datumName = cleanTitle(strings.ReplaceAll(d.Name, "_", " "))
	def.known = d.find(def.Ellipsoid)
	if def.known != nil {
		def.Ellipsoid = def.known.ellipsoid
	}
	if d.ToWGS84 == nil || !def.ownShiftCounts() {
		return nil
	}
	if n := len(d.ToWGS84); n != 3 && n != 7 {
		return badDefinition("the shift to WGS 84 has %d numbers, but must have 3 or 7", n)
	}
	def.known, def.toWGS84 = nil, d.ToWGS84
	return nil
}

// find returns the known datum with this code or name on the same ellipsoid, or
// nil. Without an ellipsoid the code is enough.
func (d NamedDatum) find(ell Ellipsoid) *knownDatum {
	names := " " + fold(strings.TrimPrefix(d.Name, "D_")) + " " + fold(strings.TrimPrefix(d.LatLonName, "GCS_")) + " "
	var byName *knownDatum
	for _, known := range knownDatums() {
		byCode := d.LatLonCode == known.geographic || d.Code == known.geographic+2000
		if same := sameEllipsoid(known.ellipsoid, ell); !same && !(byCode && ell.A == 0) {
			continue
		}
		if byCode {
			return &known
		}
		for _, name := range append(strings.Fields(known.names), fold(known.latLon), fold(known.name)) {
			if byName == nil && strings.Contains(names, " "+name+" ") {
				byName = &known
			}
		}
	}
	if d.LatLonCode != 0 || d.Code != 0 {
		return nil // another datum with a similar name
	}
	return byName
}

// ownShiftCounts reports whether a stated shift takes precedence over the known
// datum: it does if the known shift is only a mean for several countries.
func (def *Definition) ownShiftCounts() bool {
	if def.known == nil {
		return true
	}
	for _, d := range furtherDatums() {
		if d.geographic == def.known.geographic {
			_, mean := d.datum.(*helmert)
			return mean
		}
	}
	return false
}

// datum chooses the shift to WGS 84.
func (def *Definition) datum() datum {
	switch {
	case def.known != nil:
		return def.known.datum
	case def.toWGS84 != nil && !def.zeroShift():
		return def.statedShift()
	case def.shiftFile != "":
		return unknownDatum{"the definition names the file " + def.shiftFile + " for it; give +towgs84 instead"}
	case def.likeWGS84():
		return sameDatum{def.datumWords(), unnamedDatumM}
	case def.datumName != "":
		return unknownDatum{"nothing is known of the datum " + def.datumName}
	}
	if def.toWGS84 != nil {
		return unknownDatum{"the definition states a shift of zero, which is no datum's on this ellipsoid"}
	}
	return unknownDatum{"the definition has no datum and no towgs84"}
}

// σ per axis in metres, our own estimates: of a three-parameter and a
// seven-parameter shift stated without accuracy, and of an unnamed datum on the
// ellipsoid of WGS 84 or GRS 1980.
const (
	statedThreeM  = 10
	statedSevenM  = 3
	unnamedDatumM = 5
)

func (def *Definition) statedShift() datum {
	v := append(append([]float64(nil), def.toWGS84...), 0, 0, 0, 0)
	if v[3] == 0 && v[4] == 0 && v[5] == 0 && v[6] == 0 {
		return translation("three-parameter shift of the definition, accuracy not stated", statedThreeM, v[0], v[1], v[2])
	}
	return seven("seven-parameter shift of the definition, accuracy not stated", statedSevenM, v[0], v[1], v[2], v[3], v[4], v[5], v[6])
}

func (def *Definition) zeroShift() bool {
	for _, v := range def.toWGS84 {
		if v != 0 {
			return false
		}
	}
	return true
}

// likeWGS84 reports whether the datum uses the ellipsoid of WGS 84 or GRS 1980; an
// unnamed one counts as WGS 84.
func (def *Definition) likeWGS84() bool {
	return sameEllipsoid(def.Ellipsoid, WGS84()) || sameEllipsoid(def.Ellipsoid, GRS80())
}

func (def *Definition) datumWords() string {
	if def.datumName != "" {
		return def.datumName + ", by its ellipsoid"
	}
	return "a datum that is not named, by its ellipsoid"
}

// sameEllipsoid tells WGS 84 from GRS 1980, which part by 1.5e-6 in the inverse
// flattening, and takes Airy 1830 by its two radii for Airy 1830 by its
// flattening, which part by 3.3e-6.
func sameEllipsoid(a, b Ellipsoid) bool {
	tolerance := 5e-6
	if math.Abs(a.A-WGS84().A) < 1e-3 {
		tolerance = 5e-7
	}
	return math.Abs(a.A-b.A) < 1e-3 && math.Abs(a.InvF-b.InvF) < tolerance
}
