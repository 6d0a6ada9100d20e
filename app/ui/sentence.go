package ui

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentence writes an error for people: it begins with a capital and ends with
// a full stop.
func sentence(err error) string {
	text := strings.TrimSpace(err.Error())
	if text == "" {
		return ""
	}
	if word, _, _ := strings.Cut(text, " "); !strings.ContainsAny(word, "./\\:_") { // the name of a file keeps its letters
		first, n := utf8.DecodeRuneInString(text)
		text = string(unicode.ToUpper(first)) + text[n:]
	}
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return text
}

// sentenceText is sentence for a text.
func sentenceText(text string) string { return sentence(errors.New(text)) }
