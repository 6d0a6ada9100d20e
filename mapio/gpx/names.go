package gpx

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// namer makes names that are short enough and occur once.
type namer struct {
	limit int
	used  map[string]bool
}

func newNamer(limit int) *namer { return &namer{limit: limit, used: map[string]bool{}} }

// name returns the wanted name cut to the limit. One that was given out
// already gets a number in the place of its last letters. Case does not make
// a difference: on many receivers it cannot be seen.
func (n *namer) name(want string) string {
	want = strings.Join(strings.Fields(want), " ")
	if want == "" {
		want = "point"
	}
	got := cut(want, n.limit)
	for i := 2; n.used[strings.ToLower(got)]; i++ {
		number := strconv.Itoa(i)
		got = cut(want, n.limit-len(number)) + number
		if len(number) > n.limit {
			break // more names than the limit can tell apart
		}
	}
	n.used[strings.ToLower(got)] = true
	return got
}

// cut returns the first letters of a text.
func cut(text string, letters int) string {
	if utf8.RuneCountInString(text) <= letters {
		return text
	}
	return strings.TrimSpace(string([]rune(text)[:max(letters, 0)]))
}

// clean leaves out what XML 1.0 forbids (section 2.2 of that standard) and
// brings every kind of space to a plain one.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u2009' || r == '\u00a0':
			return ' '
		case r == utf8.RuneError, r < 0x20, r == 0xFFFE, r == 0xFFFF, r >= 0xD800 && r <= 0xDFFF:
			return -1
		}
		return r
	}, text)
}
