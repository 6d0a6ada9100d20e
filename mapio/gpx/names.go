package gpx

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// namer makes names that are short enough and occur once.
type namer struct {
	limit int
	used  map[string]bool
	next  map[string]int // where the search for a free number goes on, by name
}

func newNamer(limit int) *namer {
	return &namer{limit: limit, used: map[string]bool{}, next: map[string]int{}}
}

// name returns the wanted name cut to the limit. A name already taken gets a number
// instead of its last letters. Case makes no difference: many receivers do not show it.
func (n *namer) name(want string) string {
	want = strings.Join(strings.Fields(want), " ")
	if want == "" {
		want = "point"
	}
	got := cut(want, n.limit)
	first := strings.ToLower(got)
	i := max(n.next[first], 2)
	for ; n.used[strings.ToLower(got)]; i++ {
		number := strconv.Itoa(i)
		got = cut(want, n.limit-len(number)) + number
		if len(number) > n.limit {
			break // more names than the limit can tell apart
		}
	}
	n.used[strings.ToLower(got)] = true
	n.next[first] = i
	return got
}

// placed gives each position one name: a route that begins and ends at a mark names
// that mark twice, not two marks. Two positions never share a name.
type placed struct {
	names *namer
	known map[place]string
}

// place is a position in degrees and the name wanted for it.
type place struct {
	want     string
	lat, lon float64
}

func newPlaced(limit int) *placed {
	return &placed{names: newNamer(limit), known: map[place]string{}}
}

func (p *placed) name(want string, lat, lon float64) string {
	at := place{want, lat, lon}
	got, ok := p.known[at]
	if !ok {
		got = p.names.name(want)
		p.known[at] = got
	}
	return got
}

// cut returns the first letters of a text. It separates no letter from its accents
// and no symbol that is joined from several.
func cut(text string, letters int) string {
	if utf8.RuneCountInString(text) <= letters {
		return text
	}
	runes := []rune(text)
	n := max(letters, 0)
	for n > 0 && (joins(runes[n]) || runes[n-1] == joiner) {
		n--
	}
	return strings.TrimSpace(string(runes[:n]))
}

// joiner ties two symbols into one (Unicode's zero width joiner).
const joiner = '\u200d'

// joins reports whether r belongs to the character before it: an accent, a
// variation, a joiner or a skin tone.
func joins(r rune) bool {
	return unicode.Is(unicode.M, r) || r == joiner || (r >= 0x1f3fb && r <= 0x1f3ff)
}

// clean leaves out what XML 1.0 forbids (section 2.2 of that standard), turns every
// kind of space into a plain one and composes letters with their accents, so that
// they count as one.
func clean(text string) string {
	return norm.NFC.String(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u2009' || r == '\u00a0':
			return ' '
		case r == utf8.RuneError, r < 0x20, r == 0xFFFE, r == 0xFFFF, r >= 0xD800 && r <= 0xDFFF:
			return -1
		}
		return r
	}, text))
}
