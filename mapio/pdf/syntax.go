package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// object is one of null (nil), bool, int64, float64, nameObject, textObject,
// arrayObject, dictObject and reference (ISO 32000-2, 7.3). Streams are
// dictObjects whose data is asked for apart.
type object any

type (
	nameObject  string
	textObject  string // bytes, as they are written
	arrayObject []object
	dictObject  map[nameObject]object
	reference   struct{ number, generation int64 }
)

const (
	maxNesting = 64      // of objects in objects
	maxItems   = 200_000 // entries of all arrays and dictionaries in one object
)

// errShort is the error of text that continues beyond the parser's data.
var errShort = errors.New("more is needed")

// parser reads the objects of a text that may continue beyond data, unless whole is
// true.
type parser struct {
	data  []byte
	at    int
	whole bool
	short bool // the parser looked beyond data
	items int
}

// peek returns the byte at a distance, or 0 beyond the end.
func (p *parser) peek(n int) byte {
	if p.at+n < len(p.data) {
		return p.data[p.at+n]
	}
	p.short = p.short || !p.whole
	return 0
}

func (p *parser) ended() bool { return p.at >= len(p.data) }

func isSpace(c byte) bool {
	return c == 0 || c == '\t' || c == '\n' || c == '\f' || c == '\r' || c == ' '
}

func isDelimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

func isRegular(c byte) bool { return !isSpace(c) && !isDelimiter(c) }

// space skips white space and comments.
func (p *parser) space() {
	for {
		c := p.peek(0)
		switch {
		case p.ended():
			return
		case c == '%':
			for !p.ended() && p.peek(0) != '\n' && p.peek(0) != '\r' {
				p.at++
			}
		case isSpace(c):
			p.at++
		default:
			return
		}
	}
}

// word takes the regular characters that come next.
func (p *parser) word() string {
	start := p.at
	for !p.ended() && isRegular(p.data[p.at]) {
		p.at++
	}
	p.peek(0)
	return string(p.data[start:p.at])
}

// object reads the next object. The error is errShort if the text continues beyond
// data.
func (p *parser) object() (object, error) {
	o, err := p.nested(0)
	if p.short {
		return nil, errShort
	}
	return o, err
}

func (p *parser) nested(depth int) (object, error) {
	p.items++
	if depth > maxNesting || p.items > maxItems {
		return nil, fmt.Errorf("%w: an object is nested too deeply or too large", errDictionary)
	}
	p.space()
	switch c := p.peek(0); {
	case c == '/':
		p.at++
		return p.name(), nil
	case c == '(':
		p.at++
		return p.literal()
	case c == '<' && p.peek(1) == '<':
		p.at += 2
		return p.entries(depth)
	case c == '<':
		p.at++
		return p.hex()
	case c == '[':
		p.at++
		return p.array(depth)
	case isRegular(c):
		return p.simple()
	}
	return nil, p.unexpected()
}

func (p *parser) unexpected() error {
	return fmt.Errorf("%w: an object is cut off or missing", errDictionary)
}

// simple reads numbers, references and keywords.
func (p *parser) simple() (object, error) {
	w := p.word()
	if n, err := strconv.ParseInt(w, 10, 64); err == nil {
		if r, ok := p.reference(n); ok {
			return r, nil
		}
		return n, nil
	}
	switch w {
	case "true", "false":
		return w == "true", nil
	case "null":
		return nil, nil
	}
	// A number has a point, but no exponent and no name such as Inf.
	if v, err := strconv.ParseFloat(w, 64); err == nil && bytes.IndexByte([]byte("+-.0123456789"), w[len(w)-1]) >= 0 {
		return v, nil
	}
	return nil, p.unexpected()
}

// reference reads the rest of "12 0 R" after its first number; if it is missing the
// parser does not move.
func (p *parser) reference(number int64) (reference, bool) {
	start := p.at
	p.space()
	generation, err := strconv.ParseInt(p.word(), 10, 32)
	p.space()
	if err == nil && generation >= 0 && number >= 0 && p.word() == "R" {
		return reference{number, generation}, true
	}
	p.at = start
	return reference{}, false
}

func (p *parser) name() nameObject {
	w := p.word()
	if !bytes.Contains([]byte(w), []byte("#")) {
		return nameObject(w)
	}
	out := make([]byte, 0, len(w))
	for i := 0; i < len(w); i++ {
		if w[i] == '#' && i+2 < len(w) {
			if v, err := strconv.ParseUint(w[i+1:i+3], 16, 8); err == nil {
				out = append(out, byte(v))
				i += 2
				continue
			}
		}
		out = append(out, w[i])
	}
	return nameObject(out)
}

func (p *parser) array(depth int) (object, error) {
	out := arrayObject{}
	for {
		p.space()
		if p.peek(0) == ']' {
			p.at++
			return out, nil
		}
		o, err := p.nested(depth + 1)
		if err != nil {
			return nil, err
		}
		out = append(out, o)
	}
}

func (p *parser) entries(depth int) (object, error) {
	out := dictObject{}
	for {
		p.space()
		if p.peek(0) == '>' && p.peek(1) == '>' {
			p.at += 2
			return out, nil
		}
		if p.peek(0) != '/' {
			return nil, p.unexpected()
		}
		p.at++
		key := p.name()
		o, err := p.nested(depth + 1)
		if err != nil {
			return nil, err
		}
		out[key] = o // the last of two, as in the renderer
	}
}

func (p *parser) hex() (object, error) {
	var digits []byte
	for ; !p.ended() && p.peek(0) != '>'; p.at++ {
		if c := p.peek(0); !isSpace(c) {
			digits = append(digits, c)
		}
	}
	if p.peek(0) != '>' {
		return nil, p.unexpected()
	}
	p.at++
	if len(digits)%2 == 1 {
		digits = append(digits, '0')
	}
	out := make([]byte, len(digits)/2)
	for i := range out {
		v, err := strconv.ParseUint(string(digits[2*i:2*i+2]), 16, 8)
		if err != nil {
			return nil, p.unexpected()
		}
		out[i] = byte(v)
	}
	return textObject(out), nil
}

// literal reads a string in brackets (ISO 32000-2, 7.3.4.2).
func (p *parser) literal() (object, error) {
	var out []byte
	for open := 1; !p.ended(); p.at++ {
		switch c := p.data[p.at]; c {
		case '(':
			open++
		case ')':
			if open--; open == 0 {
				p.at++
				return textObject(out), nil
			}
		case '\\':
			p.at++
			out = p.escaped(out)
			continue
		}
		out = append(out, p.data[p.at])
	}
	p.peek(0)
	return nil, p.unexpected()
}

// escaped appends the character after a backslash and stops on its last byte.
func (p *parser) escaped(out []byte) []byte {
	c := p.peek(0)
	if i := bytes.IndexByte([]byte("nrtbf"), c); i >= 0 {
		return append(out, "\n\r\t\b\f"[i])
	}
	switch {
	case c == '\n':
		return out
	case c == '\r':
		if p.peek(1) == '\n' {
			p.at++
		}
		return out
	case c < '0' || c > '7':
		return append(out, c)
	}
	v := int(c - '0')
	for range 2 {
		if d := p.peek(1); d >= '0' && d <= '7' {
			v, p.at = v<<3|int(d-'0'), p.at+1
		}
	}
	return append(out, byte(v))
}
