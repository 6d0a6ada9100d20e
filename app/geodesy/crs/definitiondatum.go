package crs

import (
	"math"
	"strings"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// onDatum sets the datum. A stated shift takes precedence over the known datum only
// if ownShiftCounts.
func (def *Definition) onDatum(d NamedDatum) error {
	def.DatumName = cleanTitle(strings.ReplaceAll(d.Name, "_", " "))
	def.Known = d.find(def.Ellipsoid)
	if def.Known != nil {
		def.Ellipsoid = def.Known.Ellipsoid
	}
	if d.ToWGS84 == nil || !def.ownShiftCounts() {
		return nil
	}
	if n := len(d.ToWGS84); n != 3 && n != 7 {
		return Bad("the shift to WGS 84 has %d numbers, but must have 3 or 7", n)
	}
	def.Known, def.ToWGS84 = nil, d.ToWGS84
	return nil
}

// find returns the known datum with this code or name on the same ellipsoid, or
// nil. Without an ellipsoid the code is enough.
func (d NamedDatum) find(ell earth.Ellipsoid) *datum.Known {
	names := " " + fold(strings.TrimPrefix(d.Name, "D_")) + " " + fold(strings.TrimPrefix(d.LatLonName, "GCS_")) + " "
	var byName *datum.Known
	for _, known := range datum.All() {
		byCode := d.LatLonCode == known.Geographic || d.Code == known.Geographic+2000
		if same := SameEllipsoid(known.Ellipsoid, ell); !same && !(byCode && ell.A == 0) {
			continue
		}
		if byCode {
			return &known
		}
		for _, name := range append(strings.Fields(known.Names), fold(known.LatLon), fold(known.Name)) {
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
	if def.Known == nil {
		return true
	}
	for _, d := range datum.Further() {
		if d.Geographic == def.Known.Geographic {
			_, mean := d.Datum.(*datum.Helmert)
			return mean
		}
	}
	return false
}

// DatumShift chooses the shift to WGS 84.
func (def *Definition) DatumShift() datum.Datum {
	switch {
	case def.Known != nil:
		return def.Known.Datum
	case def.ToWGS84 != nil && !def.ZeroShift():
		return def.StatedShift()
	case def.ShiftFile != "":
		return datum.Unknown{Why: "the definition takes the shift from the file " + def.ShiftFile + ", which this program does not read; give +towgs84 instead"}
	case def.LikeWGS84():
		return datum.Like{Name: def.datumWords(), SigmaM: unnamedDatumM}
	case def.DatumName != "":
		return datum.Unknown{Why: "this program does not know the datum " + def.DatumName}
	}
	if def.ToWGS84 != nil {
		return datum.Unknown{Why: "the definition gives a shift of zero, which no datum on this ellipsoid has"}
	}
	return datum.Unknown{Why: "the definition gives neither a datum nor a shift to WGS 84"}
}

// σ per axis in metres, our own estimates: of a three-parameter and a
// seven-parameter shift stated without accuracy, and of an unnamed datum on the
// ellipsoid of WGS 84 or GRS 1980.
const (
	statedThreeM  = 10
	statedSevenM  = 3
	unnamedDatumM = 5
)

// StatedShift is the shift that the definition itself states, with our own estimate of
// its accuracy.
func (def *Definition) StatedShift() datum.Datum {
	v := append(append([]float64(nil), def.ToWGS84...), 0, 0, 0, 0)
	if v[3] == 0 && v[4] == 0 && v[5] == 0 && v[6] == 0 {
		return datum.Translation("three-parameter shift from the definition, which states no accuracy", statedThreeM, v[0], v[1], v[2])
	}
	return datum.Seven("seven-parameter shift from the definition, which states no accuracy", statedSevenM, v[0], v[1], v[2], v[3], v[4], v[5], v[6])
}

// ZeroShift reports whether the shift that the definition states is zero.
func (def *Definition) ZeroShift() bool {
	for _, v := range def.ToWGS84 {
		if v != 0 {
			return false
		}
	}
	return true
}

// LikeWGS84 reports whether the datum uses the ellipsoid of WGS 84 or GRS 1980; an
// unnamed one counts as WGS 84.
func (def *Definition) LikeWGS84() bool {
	return SameEllipsoid(def.Ellipsoid, earth.WGS84()) || SameEllipsoid(def.Ellipsoid, earth.GRS80())
}

func (def *Definition) datumWords() string {
	if def.DatumName != "" {
		return def.DatumName + ", which has the same ellipsoid,"
	}
	return "an unnamed datum with the same ellipsoid,"
}

// SameEllipsoid tells WGS 84 from GRS 1980, which differ by 1.5e-6 in the inverse
// flattening, and takes Airy 1830 by its two radii for Airy 1830 by its
// flattening, which differ by 3.3e-6.
func SameEllipsoid(a, b earth.Ellipsoid) bool {
	tolerance := 5e-6
	if math.Abs(a.A-earth.WGS84().A) < 1e-3 {
		tolerance = 5e-7
	}
	return math.Abs(a.A-b.A) < 1e-3 && math.Abs(a.InvF-b.InvF) < tolerance
}
