package foot

import (
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence writes an error as a sentence: it begins with a capital, unless the
// first word is the name of a file, and ends with a full stop.
func Sentence(err error) string {
	text := strings.TrimSpace(err.Error())
	if text == "" {
		return ""
	}
	if word, _, _ := strings.Cut(text, " "); !strings.ContainsAny(word, "./\\:_") { // the name of a file keeps its letters
		first, n := utf8.DecodeRuneInString(text)
		text = string(unicode.ToUpper(first)) + text[n:]
	}
	if last, _ := utf8.DecodeLastRuneInString(text); !strings.ContainsRune(".?…", last) {
		text += "."
	}
	return text
}

// SentenceOf is Sentence for a text.
func SentenceOf(text string) string { return Sentence(errors.New(text)) }
