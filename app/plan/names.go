package plan

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"legwright/app/geodesy"
)

// Letters returns the n-th name of the series A, B, … Z, AA, AB, …; n counts
// from 0.
func Letters(n int) string {
	var b []byte
	for n++; n > 0; n = (n - 1) / 26 {
		b = append([]byte{byte('A' + (n-1)%26)}, b...)
	}
	return string(b)
}

// sameName compares names as people do: without case and outer blanks.
func sameName(a, b string) bool {
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b))
}

// bare returns a name without its accents: "Ròp" is "Rop".
func bare(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(name))
}

// NextMarkName returns the first letter name that no mark and no end has.
func (p *Plan) NextMarkName() string {
	taken := p.TakenNames()
	for n := 0; ; n++ {
		if name := Letters(n); !taken[name] {
			return name
		}
	}
}

// TakenNames returns what marks and ends are called, in capitals.
func (p *Plan) TakenNames() map[string]bool {
	taken := p.markNames()
	for _, letter := range p.letters() {
		taken[letter] = true
	}
	return taken
}

func (p *Plan) markNames() map[string]bool {
	taken := make(map[string]bool, len(p.Marks))
	for _, m := range p.Marks {
		taken[strings.ToUpper(strings.TrimSpace(m.Name))] = true
	}
	return taken
}

// placeKey is a position to the millimetre.
type placeKey struct {
	code geodesy.Code
	e, n int64
}

func keyOf(p Position) placeKey {
	return placeKey{p.Code, int64(math.Round(p.Grid.E * 1000)), int64(math.Round(p.Grid.N * 1000))}
}

// letters returns the letter of every position at which an end stands on no mark. An end
// keeps the letter that it has, unless a mark is called so or an earlier end at another
// position has it. The others get the first free ones, in route order.
func (p *Plan) letters() map[placeKey]string {
	at, taken := map[placeKey]string{}, p.markNames()
	for e := range p.Ends {
		k := keyOf(e.Position)
		if e.Mark == "" && e.Letter != "" && at[k] == "" && !taken[e.Letter] {
			at[k], taken[e.Letter] = e.Letter, true
		}
	}
	n := 0
	for e := range p.Ends {
		k := keyOf(e.Position)
		if e.Mark != "" || at[k] != "" {
			continue
		}
		for taken[Letters(n)] {
			n++
		}
		at[k], taken[Letters(n)] = Letters(n), true
	}
	return at
}

// letterAt returns the letter of the ends at a position that stand on no mark, or "".
func (p *Plan) letterAt(at Position) string { return p.letters()[keyOf(at)] }

// lettered returns the plan with its letter in every end that stands on no mark.
func (p *Plan) lettered() *Plan {
	at := p.letters()
	return p.mapEnds(func(e End) End {
		e.Letter = ""
		if e.Mark == "" {
			e.Letter = at[keyOf(e.Position)]
		}
		return e
	})
}

func badLetter(s string) string {
	for _, r := range s {
		if r < 'A' || r > 'Z' || len(s) > 4 {
			return fmt.Sprintf("an end has the letter %q: letters run A, B, … Z, AA", s)
		}
	}
	return ""
}

// Labels names the ends of legs and sights for people.
type Labels struct {
	marks   map[ID]string
	letters map[placeKey]string
}

// Labels names every end of the plan: by the mark that it stands on, or else by its
// letter.
func (p *Plan) Labels() Labels {
	l := Labels{marks: make(map[ID]string, len(p.Marks)), letters: p.letters()}
	for _, m := range p.Marks {
		l.marks[m.ID] = m.Name
	}
	return l
}

// Of returns the label of an end of the plan the labels were made from, or ""
// for any other.
func (l Labels) Of(e End) string {
	if e.Mark != "" {
		return l.marks[e.Mark]
	}
	return l.letters[keyOf(e.Position)]
}
