package script

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// TestLineOrdersAsSeen writes right-to-left letters as R S T … would stand:
// Hebrew alef, bet, gimel, dalet. The expected orders follow by hand from rules
// P2, P3, N1, N2, L2 and L4 of Unicode Standard Annex 9.
func TestLineOrdersAsSeen(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, text, want string }{
		{"latin", "Beinn Àrd 057°", "Beinn Àrd 057°"},
		{"cyrillic", "Гора 12", "Гора 12"},
		{"hebrew", "אבג", "גבא"},
		{"hebrew, then latin", "אב ab", "ab בא"},
		{"latin, then hebrew", "ab אב", "ab בא"},
		{"number within hebrew, latin line", "ab אב 12 גד", "ab דג 12 בא"},
		{"number within hebrew", "אב 12 גד", "דג 12 בא"},
		{"two stretches", "אב ab גד cd", "cd דג ab בא"},
		{"latin first, two stretches", "cd אב ab גד", "cd בא ab דג"},
		{"brackets are mirrored", "אב(ג)", "(ג)בא"},
	}
	for _, c := range tests {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got := Line(c.text, func(rune) bool { return true }); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestLineSpellsWhatCannotBeDrawn(t *testing.T) {
	t.Parallel()
	has := func(r rune) bool { return r < 0x2000 }
	tests := []struct{ text, want string }{
		{"日本", "[65E5][672C]"},
		{"top 😀", "top [1F600]"},
		{"☃\ufe0f a", "[2603] a"},
		{"a\u200db", "ab"},
		{"Гора", "Гора"},
		{"", ""},
	}
	for _, c := range tests {
		if got := Line(c.text, has); got != c.want {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
}

// FuzzLine holds that no letter of another script is lost where all can be
// drawn, that the result is valid text, and that nothing panics.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"ab אב 12 גד", "日本\n語", "\u202eab\u202c", "(א[ב])", "\xff\u05d0", "\u2029א", "بلا َ ab", "\ufefb"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := Line(text, func(rune) bool { return true })
		if !utf8.ValidString(got) && utf8.ValidString(text) {
			t.Fatalf("%q: got invalid text %q", text, got)
		}
		if g, w := letters(got), letters(text); g != w {
			t.Fatalf("%q: got %d letters, want %d", text, g, w)
		}
		Line(text, func(rune) bool { return false })
	})
}

// letters counts what must not be lost; lam with alef is two in one.
func letters(s string) int {
	for _, f := range lamAlefs() {
		for _, g := range []rune{f.alone, f.last} {
			s = strings.ReplaceAll(s, string(g), "לא")
		}
	}
	return utf8.RuneCountInString(strings.Map(func(r rune) rune {
		if r < plainBelow || steers(r) || r == utf8.RuneError {
			return -1
		}
		return r
	}, s))
}
