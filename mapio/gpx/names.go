package gpx

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/mozillazg/go-unidecode"
	"golang.org/x/text/unicode/norm"
)

// namer makes names that are short enough and that never look like the name of another place.
// Names that are the same are told apart by letters: a number in a name is always its own.
type namer struct {
	limit int
	plain bool              // ASCII alone
	whole map[string]string // the name wanted, by its look; "" where several look like that
	used  map[string]string // whose a name is, by the name and by its look
	next  map[string]int    // where the search for free letters goes on, by name
}

// newNamer makes names of at most limit letters for all that want one.
func newNamer(limit int, plain bool, wants ...string) *namer {
	n := &namer{limit: limit, plain: plain, whole: map[string]string{}, used: map[string]string{}, next: map[string]int{}}
	for _, want := range wants {
		want = n.wanted(want)
		if other, ok := n.whole[look(want)]; ok && !strings.EqualFold(other, want) {
			want = ""
		}
		n.whole[look(want)] = want
	}
	return n
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

// wanted is a name as it stands where it need not be cut.
func (n *namer) wanted(name string) string {
	if n.plain {
		name = unidecode.Unidecode(name)
	}
	if name = strings.Join(strings.Fields(name), " "); name == "" {
		return nameless
	}
	return name
}

// nameless is the name of what has none.
const nameless = "point"

// unworded is a name without the word of a stop or a draft before it.
func unworded(name string) string { return strings.TrimPrefix(unmarked(name), draftName) }

// name returns the wanted name cut to the limit, a stop before it where there is one. The same
// name for somebody else gets a letter at its end. Case makes no difference: many receivers do
// not show it. Who is "" where no two share a name.
func (n *namer) name(want, stop, who string) string {
	want = n.wanted(want)
	full := n.stopped(want, stop)
	got := shorten(full, "", n.limit)
	first := strings.ToLower(got)
	i := max(n.next[first], 2)
	for ; n.taken(got, full, want, who); i++ {
		letters := nth(i)
		if len(full)-len(unworded(full))+len("x-")+len(letters) > n.limit {
			break // more names than the limit can tell apart
		}
		got = shorten(full, letters, n.limit)
	}
	n.used[strings.ToLower(unmarked(got))], n.used[look(got)] = who, who
	n.next[first] = i
	return got
}

// taken reports whether somebody else has a name. One that was changed must not look like that
// of somebody else either.
func (n *namer) taken(got, full, want, who string) bool {
	others := func(key string) bool {
		owner, ok := n.used[key]
		return ok && (who == "" || owner != who)
	}
	if others(strings.ToLower(unmarked(got))) {
		return true
	}
	if got == full {
		return false
	}
	like, ok := n.whole[look(got)]
	return others(look(got)) || ok && !strings.EqualFold(like, want)
}

// look is what is seen of a name at a glance: no case, no stop, no space and no punctuation.
func look(name string) string {
	low := strings.ToLower(unworded(name))
	seen := strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.IsPunct(r) {
			return -1
		}
		return r
	}, low)
	if seen == "" {
		return low
	}
	return seen
}

// nth counts in letters: a, b … z, aa, ab …
func nth(i int) string {
	out := ""
	for ; i > 0; i = (i - 1) / 26 {
		out = string(rune('a'+(i-1)%26)) + out
	}
	return out
}

// ownEnd is what tells a name from its neighbours and is never cut off: a number at its end, or
// a single capital or Roman numeral.
var ownEnd = regexp.MustCompile(`( ?)(\p{N}[\p{N}/.,:-]*\p{L}?\p{P}?)$|( )([IVX]+|[\p{Lu}\p{Lo}]\p{M}*)$`)

// numbers are those within a name.
var numbers = regexp.MustCompile(`\p{N}[\p{N}/.,:-]*\p{L}?`)

// shorten cuts a name to the limit with letters at its end that tell it from others, "" for
// none. It keeps the stop before the name, the end that is its own, and no part of a number.
func shorten(full, letters string, limit int) string {
	name := unworded(full)
	word := strings.TrimSuffix(full, name)
	if last, _ := utf8.DecodeLastRuneInString(full); letters != "" && !unicode.IsNumber(last) {
		letters = "-" + letters
	}
	return word + shortened(name, limit-len(word)-len(letters)) + letters
}

func shortened(name string, limit int) string {
	m := ownEnd.FindStringSubmatch(name)
	if utf8.RuneCountInString(name) <= limit || m == nil {
		return cutWord(name, limit)
	}
	gap, end := m[1]+m[3], m[2]+m[4]
	head := strings.TrimSuffix(name, gap+end)
	room := limit - utf8.RuneCountInString(end)
	if room < 1 {
		return cutWord(name, limit)
	}
	if limit < leastWhole && m[2] != "" {
		gap = ""
	}
	short := cutWord(head, room-len(gap))
	if last, _ := utf8.DecodeLastRuneInString(short); gap == "" && unicode.IsNumber(last) {
		gap, short = " ", cutWord(head, room-1)
	}
	return short + gap + end
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
		got = p.names.name(want, stop, fmt.Sprint(want, lat, lon))
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

// cutWord is cut without the first few letters of a word, or the first digits of a number, that
// it cuts.
func cutWord(text string, letters int) string {
	got := cut(text, letters)
	for _, at := range numbers.FindAllStringIndex(text, -1) {
		if at[0] < len(got) && len(got) < at[1] {
			if got = strings.TrimSpace(text[:at[0]]); got == "" {
				return cut(nameless, letters)
			}
		}
	}
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
