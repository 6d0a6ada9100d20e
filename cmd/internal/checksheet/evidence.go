package checksheet

import (
	"fmt"
	"math"
)

// EvidenceKind is what a person compares the sheet with, and how finely it is
// known.
type EvidenceKind string

// The kinds of evidence: latitude and longitude of the margin to a tenth of a
// minute and to a second, and references of a list with 6, 8 and 10 figures.
const (
	Tenth  EvidenceKind = "0.1′"
	Second EvidenceKind = "1″"
	Six    EvidenceKind = "6 figures"
	Eight  EvidenceKind = "8 figures"
	Ten    EvidenceKind = "10 figures"
	// EastNorth is a listed feature by easting and northing in metres, which names no
	// zone. It is not among EvidenceKinds.
	EastNorth EvidenceKind = "E N"
)

// EvidenceKinds are all of them.
func EvidenceKinds() []EvidenceKind { return []EvidenceKind{Tenth, Second, Six, Eight, Ten} }

// Evidence is a feature of known position, read rightly.
type Evidence struct {
	Kind    EvidenceKind
	Source  string // "margin", "list", "own-grid"
	At      Pt     // as clicked
	Text    string // as typed
	Ref     Coord  // on the sheet's own ground: the middle of what the text means
	SquareM float64
}

// LatLon reports whether the evidence is latitude and longitude.
func (k EvidenceKind) LatLon() bool { return k == Tenth || k == Second }

// FineM is how finely a kind of evidence is known, in metres.
func (k EvidenceKind) FineM() float64 {
	return map[EvidenceKind]float64{Tenth: 185, Second: 31, Six: 100, Eight: 10, Ten: 1, EastNorth: 1}[k]
}

// Good reports whether the kind is fine enough to show a square of the sheet, and
// can be read on its grid at all.
func (s *Sheet) Good(k EvidenceKind) bool {
	if !k.LatLon() && s.Ground.letters == nil {
		return false
	}
	return k.FineM()/math.Sqrt(12)*7.5 < s.StepM
}

// EvidenceAt returns evidence for what lies at a position of the picture.
func (s *Sheet) EvidenceAt(k EvidenceKind, at Pt) (Evidence, error) {
	g := s.Truth.Grid(at)
	v := Evidence{Kind: k, Source: "list", SquareM: k.FineM()}
	v.At = Pt{at.X + 0.7*s.dice.NormFloat64(), at.Y + 0.7*s.dice.NormFloat64()}
	if k.LatLon() {
		v.Source = "margin"
		lat, lon, err := s.Ground.LatLon(g)
		v.Text = degrees(lat, k, "NS") + " " + degrees(lon, k, "EW")
		v.Ref = g
		return v, err
	}
	if k == EastNorth {
		v.Text, v.Ref = Plain(g), g
		return v, nil
	}
	if s.Ground.letters == nil {
		return v, fmt.Errorf("%s has no letters", s.Ground.Code)
	}
	letters, corner := s.Ground.letters(g)
	e, n := int((g.E-corner.E)/v.SquareM), int((g.N-corner.N)/v.SquareM)
	v.Ref = Coord{corner.E + (float64(e)+0.5)*v.SquareM, corner.N + (float64(n)+0.5)*v.SquareM}
	digits := map[EvidenceKind]int{Six: 3, Eight: 4, Ten: 5}[k]
	v.Text = fmt.Sprintf("%s %0*d %0*d", letters, digits, e, digits, n)
	return v, nil
}

// degrees writes an angle rounded to a tenth of a minute or a second.
func degrees(deg float64, k EvidenceKind, signs string) string {
	sign := signs[0]
	if deg < 0 {
		sign, deg = signs[1], -deg
	}
	if k == Tenth {
		t := int(math.Round(deg * 600))
		return fmt.Sprintf("%d°%02d.%d'%c", t/600, t%600/10, t%10, sign)
	}
	t := int(math.Round(deg * 3600))
	return fmt.Sprintf("%d°%02d'%02d\"%c", t/3600, t%3600/60, t%60, sign)
}
