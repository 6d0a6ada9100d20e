package gpx

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/mozillazg/go-unidecode"
	"golang.org/x/text/unicode/norm"
)

// namer makes names that are short enough and occur once.
type namer struct {
	limit int
	plain bool // ASCII alone
	used  map[string]bool
	next  map[string]int // where the search for a free number goes on, by name
}

func newNamer(limit int, plain bool) *namer {
	return &namer{limit: limit, plain: plain, used: map[string]bool{}, next: map[string]int{}}
}

// The words that begin a name with a stop.
const (
	stopName  = "STOP "
	draftName = "DRAFT "
	shortStop = "!" // for both
)

// stopped puts a stop before a name.
func (n *namer) stopped(want, stop string) string {
	short := n.limit < ShortNames
	bare, draft := strings.CutPrefix(want, draftName)
	switch {
	case stop == "" || draft && !short:
		return want
	case short:
		return shortStop + bare
	}
	return stopName + want
}

// marked reports whether a name begins with a stop or as a draft.
func marked(name string) bool {
	return strings.HasPrefix(name, stopName) || strings.HasPrefix(name, draftName) || strings.HasPrefix(name, shortStop)
}

// unmarked is a name without the stop that this program put before it.
func unmarked(name string) string {
	if bare, long := strings.CutPrefix(name, stopName); long {
		return bare
	}
	return strings.TrimPrefix(name, shortStop)
}

// name returns the wanted name cut to the limit, a stop before it where there is one. A name
// already taken gets a number instead of its last letters. Case makes no difference: many
// receivers do not show it.
func (n *namer) name(want, stop string) string {
	if n.plain {
		want = unidecode.Unidecode(want)
	}
	want = strings.Join(strings.Fields(want), " ")
	if want == "" {
		want = "point"
	}
	want = n.stopped(want, stop)
	got := cutWord(want, n.limit)
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

// place is a position in degrees and the name wanted for it, without and with its stop.
type place struct {
	want, stop string
	lat, lon   float64
}

func newPlaced(names *namer) *placed {
	return &placed{names: names, known: map[place]string{}}
}

func (p *placed) name(want, stop string, lat, lon float64) string {
	at := place{want, p.names.stopped(want, stop), lat, lon}
	got, ok := p.known[at]
	if !ok {
		got = p.names.name(want, stop)
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

// fragment is how many letters of a cut word say nothing: "Skelvig r" is no name. A name
// keeps them where less than leastWhole would be left: short names need every letter to
// tell one place from another.
const (
	fragment   = 3
	leastWhole = 12 // bytes
)

// cutWord is cut without the first few letters of a word that it cuts.
func cutWord(text string, letters int) string {
	got := cut(text, letters)
	i := strings.LastIndexByte(got, ' ')
	if i < leastWhole || len(got) == len(text) || text[len(got)] == ' ' || utf8.RuneCountInString(got[i+1:]) > fragment {
		return got
	}
	return got[:i]
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
