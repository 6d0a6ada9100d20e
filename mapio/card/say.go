package card

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// Spoken is a position as it is said on the telephone.
type Spoken struct {
	Name string
	Line string // what is said, without the name
}

// spoken are the marks with an escape and the havens that lie at one position, and where escapes
// end.
func (w writer) spoken() (out []Spoken) {
	add := func(name string, pos plan.Position) {
		if line := w.say(name, pos); line != "" && !slices.ContainsFunc(out, func(s Spoken) bool { return s.Line == line }) {
			out = append(out, Spoken{name, line})
		}
	}
	for _, m := range w.p.Marks {
		if len(w.p.EscapesFrom(m.ID)) > 0 {
			add(m.Name, m.Position)
		}
	}
	for _, h := range w.p.Havens {
		if len(h.Points) == 1 {
			add(w.p.TitleOf(h.ID), h.Points[0])
		}
	}
	for _, e := range w.judged.Escapes {
		if own, ok := w.p.EscapeByID(e.ID); ok {
			add("End of "+e.Name+", "+e.To, w.p.Resolve(own.End()))
		}
	}
	return out
}

// say says where a position is, its stops first: "British National Grid, datum OSGB36: November Lima, two six
// seven two, four four five nine; 300 m north-east of the hut".
func (w writer) say(name string, pos plan.Position) string {
	sys, err := w.r.SystemFor(pos)
	if err != nil {
		return ""
	}
	ref, err := w.r.Reference(pos)
	if err != nil {
		return ""
	}
	return joined("; ", caution.Lead(w.r.CautionsOf(pos), caution.All), gridWords(sys)+": "+Spell(ref), w.near(name, pos, sys))
}

// gridWords name a grid with its datum: "British National Grid, datum OSGB36".
func gridWords(sys *geodesy.System) string {
	words := sys.Name()
	if d := sys.DatumName(); d != "" && !strings.Contains(words, d) {
		words += ", datum " + d
	}
	return words
}

// nearM is how far away a named position may be that another one is described by, metres.
const nearM = 2000

// near says where a position lies from the nearest other one that has a name: "300 m north-east
// of the hut". Nearer than the ten metres to which that is written it says nothing.
func (w writer) near(name string, pos plan.Position, sys *geodesy.System) (words string) {
	at, _, err := w.r.Convert(pos, sys)
	if err != nil {
		return ""
	}
	nearest := float64(nearM)
	for _, x := range w.named() {
		g, _, err := w.r.Convert(x.pos, sys)
		if err != nil || x.name == name || caution.Stops(w.r.CautionsOf(x.pos), caution.Position) {
			continue
		}
		m, err := geodesy.GroundDistance(sys, g, at)
		if b, ok := units.GridBearingOf(at.E-g.E, at.N-g.N); err == nil && ok && m >= 5 && m < nearest {
			nearest = m
			words = fmt.Sprintf("%.0f m %s of %s", math.Round(m/10)*10, units.EightPoint(b.Angle()), x.name)
		}
	}
	return words
}

type named struct {
	name string
	pos  plan.Position
}

// named are the marks and the havens that lie at one position.
func (w writer) named() (out []named) {
	for _, m := range w.p.Marks {
		out = append(out, named{m.Name, m.Position})
	}
	for _, h := range w.p.Havens {
		if len(h.Points) == 1 {
			out = append(out, named{w.p.TitleOf(h.ID), h.Points[0]})
		}
	}
	return out
}

// alphabet is the phonetic alphabet of the ITU Radio Regulations, appendix 14, and of ICAO
// Annex 10 (from memory).
var alphabet = [26]string{
	"Alfa", "Bravo", "Charlie", "Delta", "Echo", "Foxtrot", "Golf", "Hotel", "India", "Juliett", "Kilo", "Lima", "Mike",
	"November", "Oscar", "Papa", "Quebec", "Romeo", "Sierra", "Tango", "Uniform", "Victor", "Whiskey", "X-ray", "Yankee", "Zulu",
}

var digits = [10]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}

// Spell writes a reference as it is said: letters phonetic, digits one by one, a comma for each
// gap. In latitude and longitude N, S, E and W are the names of the sides.
func Spell(ref string) string {
	latLon := strings.Contains(ref, "°")
	var groups []string
	for _, group := range strings.Fields(ref) {
		var words []string
		if group == "ft" {
			groups = append(groups, "feet")
			continue
		}
		for _, r := range group {
			words = append(words, spelt(r, latLon))
		}
		groups = append(groups, strings.Join(words, " "))
	}
	return strings.Join(groups, ", ")
}

func spelt(r rune, latLon bool) string {
	if side, ok := map[rune]string{'N': "north", 'S': "south", 'E': "east", 'W': "west"}[r]; ok && latLon {
		return side
	}
	switch {
	case r >= '0' && r <= '9':
		return digits[r-'0']
	case r >= 'A' && r <= 'Z':
		return alphabet[r-'A']
	}
	if word, ok := map[rune]string{'.': "decimal", '°': "degrees", '′': "minutes", '\'': "minutes", '″': "seconds", '"': "seconds", '-': "minus", '±': "plus or minus"}[r]; ok {
		return word
	}
	return string(r)
}
