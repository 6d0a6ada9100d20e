package lattice

import (
	"fmt"
	"math"
	"strings"

	"legwright/app/geodesy"
)

// UsualSides are the sides in metres of printed squares on maps, ascending:
// round figures of the grid's unit, metres or feet, and minutes on a grid of
// degrees (common practice, no source). system may be nil, for metres.
func UsualSides(system *geodesy.System) []float64 {
	unit := geodesy.Unit{Metres: 1}
	if system != nil {
		unit = system.Unit()
	}
	sides := []float64{
		100, 200, 250, 500, 1000, 2000, 2500, 4000, 5000, 10_000, 20_000, 25_000, 50_000,
		100_000, 200_000, 250_000, 500_000, 1_000_000,
	}
	if unit.Name == "degree" {
		sides = []float64{1. / 60, 2. / 60, 5. / 60, 10. / 60, 15. / 60, 0.5, 1, 2, 5, 10}
	}
	for i := range sides {
		sides[i] *= unit.Metres
	}
	return sides
}

// SideWords write a side as the map prints it.
func SideWords(m float64, system *geodesy.System) string {
	if system == nil || system.Unit().Metres == 1 {
		return lengthWords(m)
	}
	units := m / system.Unit().Metres
	switch {
	case system.Unit().Name != "degree":
		return fmt.Sprintf("%.6g ft", units)
	case units < 1:
		return fmt.Sprintf("%.3g′", 60*units)
	}
	return fmt.Sprintf("%.6g°", units)
}

// likeness is the part by which a side may differ from a usual one and still
// means it: people write 304.8 m for 1,000 US survey feet.
const likeness = 1e-3

// Square is what the names tell of the squares.
type Square struct {
	// SideM is the side in metres, 0 where the names leave it open: a person
	// must be asked, for a wrong side makes every place and distance wrong.
	SideM float64
	// Quarter is how many quarter turns clockwise grid north is from picture
	// up.
	Quarter int
	// Sides are the usual sides, in metres, that the names allow.
	Sides []float64
}

// OffLinesError is the error of a reference that lies on no intersection of lines so
// far apart. It wraps ErrDisagree.
type OffLinesError struct {
	Text         string       // the reference as it was typed
	SideM        float64      // of the squares, metres
	Side         string       // the same as the map prints it
	Intersection geodesy.Grid // the south-west corner of the square that holds it
	Reference    string       // of that corner
	Offset       string       // how far the reference lies from there, in the map's unit
}

func (e *OffLinesError) Error() string {
	return fmt.Sprintf("%s is not at an intersection of lines %s apart. If you mean the intersection, type %s. If you mean a feature, %s of that intersection, click the feature: it is not where these lines cross",
		e.Text, e.Side, e.Reference, e.Offset)
}

// Unwrap gives ErrDisagree.
func (e *OffLinesError) Unwrap() error { return ErrDisagree }

// SquareOf works out the side of the squares from the names: from two by
// counting the lines between them. Where SquareM is given, it is compared with
// the names. Errors: ErrNoIntersection, ErrSquare, ErrDisagree, *OffLinesError.
func (l *Lattice) SquareOf(n Naming) (Square, error) {
	if n.SquareM != 0 && !(n.SquareM > 0 && n.SquareM <= mostSideM) {
		return Square{}, fmt.Errorf("%w: got %g", ErrSquare, n.SquareM)
	}
	at, err := l.named(n.Names)
	if err != nil {
		return Square{}, err
	}
	s := Square{SideM: n.snapped(n.SquareM), Quarter: n.Quarter}
	if a, b, ok := farthest(at); ok {
		if err := s.count(n, at, a, b); err != nil {
			return Square{}, err
		}
	}
	for _, side := range UsualSides(n.System) {
		if n.onLines(side) == nil {
			s.Sides = append(s.Sides, side)
		}
	}
	if s.SideM > 0 {
		return s, n.onLines(s.SideM)
	}
	if len(s.Sides) == 0 {
		return Square{}, n.onLines(UsualSides(n.System)[0])
	}
	return s, nil
}

// count finds the side and the turn by which every name is as many squares from
// the others as there are lines between them; a and b are two names far apart.
func (s *Square) count(n Naming, at []Intersection, a, b int) error {
	dE, dN := n.Names[b].Ref.E-n.Names[a].Ref.E, n.Names[b].Ref.N-n.Names[a].Ref.N
	given := s.SideM
	for turn := range 4 { // the turn that the calibration has first
		quarter := ((n.Quarter+turn)%4 + 4) % 4
		e, nn := steps(at[b].I-at[a].I, at[b].J-at[a].J, quarter)
		side := (dE*e + dN*nn) / (e*e + nn*nn)
		if given > 0 {
			side = given
		}
		if side > 0 && n.agrees(at, side, quarter) {
			s.SideM, s.Quarter = n.snapped(side), quarter
			return n.usual(s.SideM, given)
		}
	}
	return disagreement(n, at, a, b, given)
}

// agrees compares every name with the first.
func (n Naming) agrees(at []Intersection, side float64, quarter int) bool {
	for k, c := range at {
		e, nn := steps(c.I-at[0].I, c.J-at[0].J, quarter)
		dE, dN := n.Names[k].Ref.E-n.Names[0].Ref.E-e*side, n.Names[k].Ref.N-n.Names[0].Ref.N-nn*side
		if math.Hypot(dE, dN) > 0.01*side {
			return false
		}
	}
	return true
}

// usual refuses a counted side that no map prints.
func (n Naming) usual(side, given float64) error {
	if given > 0 {
		return nil
	}
	for _, u := range UsualSides(n.System) {
		if side == u {
			return nil
		}
	}
	return fmt.Errorf("%w: going by the number of lines between the references, a square would be %s wide, and no map prints such squares; check the digits of both references, and that you clicked an intersection for each",
		ErrDisagree, SideWords(side, n.System))
}

func disagreement(n Naming, at []Intersection, a, b int, given float64) error {
	dE, dN := n.Names[b].Ref.E-n.Names[a].Ref.E, n.Names[b].Ref.N-n.Names[a].Ref.N
	text := fmt.Sprintf("%s is %s of %s, but in the picture it is %s", n.label(b), n.offsetWords(dE, dN), n.label(a), linesWords(at[b].I-at[a].I, at[b].J-at[a].J))
	if given > 0 {
		return fmt.Errorf("%w: %s, with squares of %s; check the digits and the side of a square", ErrDisagree, text, SideWords(given, n.System))
	}
	return fmt.Errorf("%w: %s; no map prints squares like that: check the digits of both", ErrDisagree, text)
}

// onLines says which name lies on no intersection of lines so far apart.
func (n Naming) onLines(side float64) error {
	for k, name := range n.Names {
		e, nn := offLine(name.Ref.E, side), offLine(name.Ref.N, side)
		if e == 0 && nn == 0 {
			continue
		}
		corner := geodesy.Grid{E: name.Ref.E - e, N: name.Ref.N - nn}
		return &OffLinesError{
			Text: n.label(k), SideM: side, Side: SideWords(side, n.System), Intersection: corner, Reference: n.reference(corner, side), Offset: n.offsetWords(e, nn),
		}
	}
	return nil
}

// offLine is how far a coordinate lies beyond a line, 0 to the side of a square;
// 0 within a thousandth of the side, at most a centimetre.
func offLine(v, side float64) float64 {
	off := v - side*math.Floor(v/side)
	if within := min(0.01, likeness*side); off <= within || off >= side-within {
		return 0
	}
	return off
}

// snapped is the usual side that is meant, or the side as it is.
func (n Naming) snapped(side float64) float64 {
	for _, u := range UsualSides(n.System) {
		if math.Abs(side-u) <= likeness*u {
			return u
		}
	}
	return side
}

// reference writes an intersection as the margin prints it, with more digits
// where those would cut it off.
func (n Naming) reference(g geodesy.Grid, side float64) string {
	if n.System == nil {
		return fmt.Sprintf("%.0f %.0f", g.E, g.N)
	}
	e, nn := n.System.InUnits(g)
	step := math.Pow(10, math.Floor(math.Log10(side/n.System.Unit().Metres)+1e-9))
	for step > 1 && (offLine(e, step) != 0 || offLine(nn, step) != 0) {
		step /= 10
	}
	if text, err := n.System.FormatRef(g, geodesy.FiguresOf(step)); err == nil {
		return text
	}
	return fmt.Sprintf("%.0f %.0f", e, nn)
}

// label is the reference as it was typed.
func (n Naming) label(k int) string {
	if t := strings.TrimSpace(n.Names[k].Text); t != "" {
		return t
	}
	return fmt.Sprintf("%.0f %.0f", n.Names[k].Ref.E, n.Names[k].Ref.N)
}

// farthest gives the two names whose intersections lie most lines apart; ok is
// false where all are one intersection.
func farthest(at []Intersection) (a, b int, ok bool) {
	most := 0.0
	for i, p := range at {
		for k, q := range at[:i] {
			if d := math.Hypot(float64(p.I-q.I), float64(p.J-q.J)); d > most {
				a, b, most = k, i, d
			}
		}
	}
	return a, b, most > 0
}

func lengthWords(m float64) string {
	if m >= 1000 {
		return fmt.Sprintf("%.6g km", m/1000)
	}
	return fmt.Sprintf("%.6g m", m)
}

// offsetWords say how far east and north something lies, in the unit of the squares.
func (n Naming) offsetWords(east, north float64) string {
	var parts []string
	if math.Abs(east) >= 0.005 {
		parts = append(parts, SideWords(math.Abs(east), n.System)+pick(east > 0, " east", " west"))
	}
	if math.Abs(north) >= 0.005 || len(parts) == 0 {
		parts = append(parts, SideWords(math.Abs(north), n.System)+pick(north >= 0, " north", " south"))
	}
	return strings.Join(parts, " and ")
}

// linesWords say how many lines one intersection lies from another in the picture.
func linesWords(i, j int) string {
	count := func(k int, one, other string) string {
		if k < 0 {
			k, one = -k, other
		}
		return fmt.Sprintf("%d %s %s", k, pick(k == 1, "line", "lines"), one)
	}
	switch {
	case j == 0:
		return count(i, "to the right", "to the left")
	case i == 0:
		return count(j, "up", "down")
	}
	return count(i, "to the right", "to the left") + " and " + count(j, "up", "down")
}

func pick(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}
