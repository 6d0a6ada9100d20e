package script

import (
	"strings"
	"unicode"
)

// forms are the shapes of an Arabic letter, by their code points in the blocks
// of presentation forms: alone, joined to the letter before, to that after, and
// to both. Letters that join only to the one before have the first two.
type forms struct{ alone, last, first, between rune }

// The presentation forms of the Unicode Standard, Arabic Presentation Forms A and
// B: the letters of each row follow each other with their forms in the order of
// type forms.
const (
	dualLetters  = "ئبتثجحخسشصضطظعغفقكلمنهيپچکگیٹھہ"
	rightLetters = "آأؤإاةدذرزوىژڈڑںے"
	lam          = 'ل'
	tatweel      = 'ـ'
	joiner       = '\u200d' // joins like a letter and is not seen
)

// joining gives the forms of letters that join.
func joining() map[rune]forms {
	out := map[rune]forms{}
	for i, r := range []rune(dualLetters) {
		f := []rune("\ufe89\ufe8f\ufe95\ufe99\ufe9d\ufea1\ufea5\ufeb1\ufeb5\ufeb9\ufebd\ufec1\ufec5\ufec9\ufecd\ufed1\ufed5\ufed9\ufedd\ufee1\ufee5\ufee9\ufef1\ufb56\ufb7a\ufb8e\ufb92\ufbfc\ufb66\ufbaa\ufba6")[i]
		out[r] = forms{f, f + 1, f + 2, f + 3}
	}
	for i, r := range []rune(rightLetters) {
		f := []rune("\ufe81\ufe83\ufe85\ufe87\ufe8d\ufe93\ufea9\ufeab\ufead\ufeaf\ufeed\ufeef\ufb8a\ufb88\ufb8c\ufb9e\ufbae")[i]
		out[r] = forms{alone: f, last: f + 1}
	}
	return out
}

// lamAlefs are lam with the alef after it, which are one letter.
func lamAlefs() map[rune]forms {
	return map[rune]forms{
		'آ': {alone: '\ufef5', last: '\ufef6'}, 'أ': {alone: '\ufef7', last: '\ufef8'},
		'إ': {alone: '\ufef9', last: '\ufefa'}, 'ا': {alone: '\ufefb', last: '\ufefc'},
	}
}

// joined writes Arabic letters in the shapes that they have beside their
// neighbours (Unicode Standard, section 9.2, rules R1 to R7), as far as has
// knows these; text is in the order of reading. Vowel points do not part letters.
func joined(text string, has func(rune) bool) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return unicode.Is(unicode.Arabic, r) }) {
		return text
	}
	table, lams := joining(), lamAlefs()
	in := []rune(text)
	var out []rune
	before := false // the letter before reaches out to this one
	for i := 0; i < len(in); i++ {
		r := in[i]
		f, ok := table[r]
		if unicode.Is(unicode.Mn, r) {
			out = append(out, r)
			continue
		}
		if r == lam && i+1 < len(in) {
			if l, is := lams[in[i+1]]; is && has(l.alone) && has(l.last) {
				f, r = l, in[i+1]
				i++
			}
		}
		after := f.first != 0 && takes(in[i+1:], table)
		out = append(out, f.shape(r, ok, before, after, has))
		before = after || r == tatweel || r == joiner
	}
	return string(out)
}

// takes reports whether what follows reaches back to the letter before it.
func takes(rest []rune, table map[rune]forms) bool {
	for _, r := range rest {
		if unicode.Is(unicode.Mn, r) {
			continue
		}
		return table[r].last != 0 || r == tatweel || r == joiner
	}
	return false
}

// shape is the form of a letter r beside its neighbours; r itself where it has
// none that can be drawn.
func (f forms) shape(r rune, ok, before, after bool, has func(rune) bool) rune {
	if !ok {
		return r
	}
	s := f.alone
	switch {
	case before && after:
		s = f.between
	case before:
		s = f.last
	case after:
		s = f.first
	}
	if !has(s) {
		return r
	}
	return s
}
