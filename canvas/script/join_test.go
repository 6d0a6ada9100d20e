package script

import (
	"testing"

	"golang.org/x/text/unicode/norm"
)

// The forms are those that the Unicode Standard decomposes into their letter
// (its character database, as golang.org/x/text carries it).
func TestFormsAreOfTheirLetters(t *testing.T) {
	t.Parallel()
	table := joining()
	if len(table) != len([]rune(dualLetters))+len([]rune(rightLetters)) {
		t.Errorf("%d letters, some twice", len(table))
	}
	of := func(f rune, want string) {
		if got := norm.NFKC.String(string(f)); f != 0 && got != want {
			t.Errorf("%04X is a form of %q, not of %q", f, got, want)
		}
	}
	for r, f := range table {
		for _, g := range []rune{f.alone, f.last, f.first, f.between} {
			of(g, string(r))
		}
		if f.alone == 0 || f.last == 0 || (f.first == 0) != (f.between == 0) {
			t.Errorf("%q: %v", r, f)
		}
	}
	for alef, f := range lamAlefs() {
		of(f.alone, string([]rune{lam, alef}))
		of(f.last, string([]rune{lam, alef}))
	}
}

// Letters take the shape that they have beside their neighbours. The expected
// forms are written out by hand from the joining types of the Unicode Standard,
// section 9.2.
func TestJoined(t *testing.T) {
	t.Parallel()
	all := func(rune) bool { return true }
	for _, c := range []struct{ name, text, want string }{
		{"a mountain: jeem, beh, lam", "جبل", "\ufe9f\ufe92\ufede"},
		{"a valley: waw, alef, dal join only backwards", "واد", "\ufeed\ufe8d\ufea9"},
		{"a door: beh, alef, beh", "باب", "\ufe91\ufe8e\ufe8f"},
		{"lam and alef are one letter", "لا", "\ufefb"},
		{"lam and alef after a letter", "بلا", "\ufe91\ufefc"},
		{"vowel points do not part", "بَب", "\ufe91\u064e\ufe90"},
		{"a hamza parts", "بءب", "\ufe8fء\ufe8f"},
		{"kept apart", "ب\u200cب", "\ufe8f\u200c\ufe8f"},
		{"drawn out", "بـ", "\ufe91ـ"},
		{"of Persian", "گپ", "\ufb94\ufb57"},
		{"two words", "با بل", "\ufe91\ufe8e \ufe91\ufede"},
		{"among others", "ab بل 12", "ab \ufe91\ufede 12"},
		{"none", "אב ab", "אב ab"},
	} {
		if got := joined(c.text, all); got != c.want {
			t.Errorf("%s: got %04X, want %04X", c.name, []rune(got), []rune(c.want))
		}
	}
	base := func(r rune) bool { return r < 0xfb00 }
	if got := joined("بلا", base); got != "بلا" {
		t.Errorf("a face without forms: got %04X", []rune(got))
	}
	if got, want := Line("جبل", all), "\ufede\ufe92\ufe9f"; got != want {
		t.Errorf("as seen: got %04X, want %04X", []rune(got), []rune(want))
	}
}
