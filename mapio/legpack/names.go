package legpack

import (
	"path"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// mostName is how long a name may be, in letters.
const mostName = 120

// folded is a name as file systems compare it that ignore case and compose accents.
func folded(name string) string { return norm.NFC.String(cases.Fold().String(name)) }

// plainRune reports whether every system allows a letter in a name.
func plainRune(r rune) bool {
	return unicode.IsPrint(r) && r != utf8.RuneError && !strings.ContainsRune(`/\:*?"<>|`, r)
}

// plain reports whether a name, without a folder, is one that every system can have and that
// leads nowhere else.
func plain(base string) bool {
	if base == "" || utf8.RuneCountInString(base) > mostName || strings.HasPrefix(base, ".") || strings.TrimRight(base, " .") != base {
		return false
	}
	for _, r := range base {
		if !plainRune(r) {
			return false
		}
	}
	stem, _, _ := strings.Cut(strings.ToUpper(base), ".")
	switch strings.TrimSpace(stem) { // devices of Windows
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return false
	}
	return !(len(stem) == 4 && (stem[:3] == "COM" || stem[:3] == "LPT"))
}

// allowed reports whether an entry of that name may be in a pack.
func allowed(name string) bool {
	if name == planName {
		return true
	}
	dir, base := path.Split(name)
	return (dir == pictureDir || dir == terrainDir) && plain(base)
}
