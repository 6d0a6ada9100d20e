package caution

import (
	"slices"
	"strings"
	"unicode"
)

// Format writes cautions for a file: the codes with their subjects, such as
// "unchecked; outside-points: mark A", each once. Grades and sentences are not
// written, so that no file can soften a stop.
func Format(list []Caution) string {
	var parts []string
	for _, c := range list {
		part := plain(string(c.Code))
		if subject := plain(c.Subject); subject != "" {
			part += ": " + subject
		}
		if !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, "; ")
}

// plain takes out what would end an entry or a line.
func plain(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r == ';':
			return ','
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, text))
}

// Parse reads what Format wrote. A code that the table does not know stays, and is
// a stop. What a caution affects comes from the table.
func Parse(text string) []Caution {
	var out []Caution
	for part := range strings.SplitSeq(text, ";") {
		code, subject, _ := strings.Cut(part, ":")
		c := Of(Code(strings.TrimSpace(code))).About(strings.TrimSpace(subject))
		if (c.Code != "" || c.Subject != "") && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}
