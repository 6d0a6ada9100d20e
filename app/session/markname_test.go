package session

import (
	"strings"
	"testing"
)

// A name that no mark has gets its own message, in the ledger's cells too; digits alone
// are refused as a reference.
func TestUnknownMarkName(t *testing.T) {
	s, _, _ := bench(t)
	for _, c := range []struct{ text, says, not string }{
		{"zzz", `no mark is called "zzz"`, "figures after"},
		{"Cairn on the ridge", `no mark is called "Cairn on the ridge"`, "beginning of a reference"},
		{"top 2", `no mark is called "top 2", and that is not a reference`, ""},
		{"NL 123 45", "no mark is called", ""},
		{"12 34 56", "12 34 56", "no mark"},
	} {
		_, err := s.ParseEnd(c.text)
		if err == nil || !strings.Contains(err.Error(), c.says) || (c.not != "" && strings.Contains(err.Error(), c.not)) {
			t.Errorf("ParseEnd(%q): %v, want %q and not %q", c.text, err, c.says, c.not)
		}
	}
}
