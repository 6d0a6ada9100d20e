package projector

import (
	"strings"

	"legwright/app/lettering"
)

// wrap breaks a text into lines of a width. A ± stays with its figure's half width, and a
// figure with its unit, its side or its north, and its thousands.
func wrap(letters *lettering.Setter, text string, style lettering.Style, wide float32) []string {
	var lines []string
	for _, word := range kept(text) {
		if n := len(lines); n > 0 && letters.Width(lines[n-1]+" "+word, style) <= wide {
			lines[n-1] += " " + word
			continue
		}
		if letters.Width(word, style) <= wide {
			lines = append(lines, word)
			continue
		}
		lines = append(lines, letters.Wrap(word, style, wide)...)
	}
	return lines
}

// kept parts a text at its blanks, but for those within a figure.
func kept(text string) []string {
	var out []string
	for _, word := range strings.Split(text, " ") {
		n := len(out)
		switch {
		case word == "":
		case n > 0 && (out[n-1] == "±" || isUnit(word) && strings.ContainsAny(out[n-1], "0123456789")):
			out[n-1] += " " + word
		default:
			out = append(out, word)
		}
	}
	return out
}

func isUnit(word string) bool {
	switch strings.Trim(word, ".,:;") {
	case "m", "km", "mil", "gon", "east", "west", "grid", "mag", "true":
		return true
	}
	return false
}
