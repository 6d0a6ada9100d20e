package planfile

import (
	"bytes"
	"encoding/json"
)

// lexer walks over the text of a JSON file without decoding it. If the text is not
// JSON it goes to the end: the decoder reports the fault.
type lexer struct {
	text []byte
	at   int
}

// next skips white space and returns the byte after it, 0 at the end.
func (l *lexer) next() byte {
	for ; l.at < len(l.text); l.at++ {
		switch b := l.text[l.at]; b {
		case ' ', '\t', '\r', '\n':
		default:
			return b
		}
	}
	return 0
}

// take skips the byte given. If another byte is there, the text is not JSON and the
// lexer goes to its end.
func (l *lexer) take(b byte) bool {
	if l.next() != b {
		l.at = len(l.text)
		return false
	}
	l.at++
	return true
}

// quoted skips a string and returns it with its quotes.
func (l *lexer) quoted() []byte {
	from := l.at
	for l.at++; l.at < len(l.text); l.at++ {
		switch l.text[l.at] {
		case '\\':
			l.at++
		case '"':
			l.at++
			return l.text[from:l.at]
		}
	}
	l.at = len(l.text)
	return nil
}

// skip skips a value and returns its text, perhaps with trailing white space.
func (l *lexer) skip() []byte {
	l.next()
	from := l.at
	for depth := 0; l.at < len(l.text); {
		switch b := l.text[l.at]; {
		case b == '"':
			l.quoted()
		case b == '{' || b == '[':
			depth++
			l.at++
		case depth == 0 && (b == ',' || b == '}' || b == ']'): // after a number or a word
			return l.text[from:l.at]
		case b == '}' || b == ']':
			depth--
			l.at++
		default:
			l.at++
			continue
		}
		if depth == 0 {
			break
		}
	}
	return l.text[from:l.at]
}

// members calls f for each key of an object, with the lexer before the value. whole
// is false if the object does not end properly.
func (l *lexer) members(f func(key string) error) (whole bool, err error) {
	l.take('{')
	for l.next() == '"' {
		raw := l.quoted()
		key := string(bytes.Trim(raw, `"`))
		if bytes.IndexByte(raw, '\\') >= 0 && json.Unmarshal(raw, &key) != nil {
			l.at = len(l.text)
		}
		if !l.take(':') {
			return false, nil
		}
		if err := f(key); err != nil {
			return false, err
		}
		if l.next() != ',' {
			break
		}
		l.at++
	}
	return l.take('}'), nil
}
