package crs

import (
	"strconv"
	"strings"

	"legwright/app/geodesy/earth"
)

// wktNode is one element of well-known text: KEYWORD[…].
type wktNode struct {
	keyword string   // upper case
	texts   []string // quoted texts and bare words, in order
	numbers []float64
	nodes   []*wktNode
}

// Limits of well-known text.
const (
	maxWKTDepth = 16
	maxWKTNodes = 4000
)

// wktReader walks along a text.
type wktReader struct {
	text  string
	at    int
	nodes int
}

// parseWKT reads the first element of a text (OGC 12-063r5, section 6): square
// brackets or round ones, texts in double quotes that are doubled within.
func parseWKT(text string) (*wktNode, error) {
	w := &wktReader{text: text}
	return w.node(1)
}

func (w *wktReader) bad(what string) error {
	return Bad("the well-known text has a fault at character %d: %s", w.at+1, what)
}

func (w *wktReader) space() {
	for w.at < len(w.text) && strings.IndexByte(" \t\r\n", w.text[w.at]) >= 0 {
		w.at++
	}
}

// word reads a keyword or a number.
func (w *wktReader) word() string {
	start := w.at
	for w.at < len(w.text) && strings.IndexByte(" \t\r\n[](),\"", w.text[w.at]) < 0 {
		w.at++
	}
	return w.text[start:w.at]
}

func (w *wktReader) node(depth int) (*wktNode, error) {
	w.space()
	keyword := w.word()
	w.space()
	if keyword == "" || w.at >= len(w.text) || !strings.ContainsRune("[(", rune(w.text[w.at])) {
		return nil, w.bad("a keyword and a bracket are expected")
	}
	return w.body(keyword, depth)
}

// body reads what is in brackets.
func (w *wktReader) body(keyword string, depth int) (*wktNode, error) {
	if w.nodes++; w.nodes > maxWKTNodes || depth > maxWKTDepth {
		return nil, Bad("the well-known text is nested deeper or has more parts than any grid needs")
	}
	n := &wktNode{keyword: strings.ToUpper(keyword)}
	closing := byte(']')
	if w.text[w.at] == '(' {
		closing = ')'
	}
	w.at++
	for {
		if err := w.part(n, depth); err != nil {
			return nil, err
		}
		w.space()
		if w.at >= len(w.text) {
			return nil, w.bad("a closing bracket is missing")
		}
		switch w.text[w.at] {
		case ',':
			w.at++
		case closing:
			w.at++
			return n, nil
		default:
			return nil, w.bad("a comma or the closing bracket is expected")
		}
	}
}

// part reads a text, a number, a bare word or an element.
func (w *wktReader) part(n *wktNode, depth int) error {
	w.space()
	if w.at < len(w.text) && w.text[w.at] == '"' {
		return w.quoted(n)
	}
	start := w.at
	word := w.word()
	w.space()
	switch {
	case word == "":
		return w.bad("something is missing between the commas")
	case w.at < len(w.text) && (w.text[w.at] == '[' || w.text[w.at] == '('):
		child, err := w.body(word, depth+1)
		n.nodes = append(n.nodes, child)
		return err
	case strings.IndexByte("+-.0123456789", word[0]) >= 0:
		v, err := strconv.ParseFloat(word, 64)
		if err != nil || !earth.Finite(v) {
			w.at = start
			return w.bad(strconv.Quote(shorten(word)) + " is not a number")
		}
		n.numbers = append(n.numbers, v)
		return nil
	}
	n.texts = append(n.texts, word)
	return nil
}

func (w *wktReader) quoted(n *wktNode) error {
	var b strings.Builder
	for w.at++; w.at < len(w.text); w.at++ {
		if w.text[w.at] != '"' {
			b.WriteByte(w.text[w.at])
			continue
		}
		w.at++
		if w.at >= len(w.text) || w.text[w.at] != '"' {
			n.texts = append(n.texts, b.String())
			return nil
		}
		b.WriteByte('"')
	}
	return w.bad("a closing quotation mark is missing")
}

// child returns the first element with one of the keywords, or nil.
func (n *wktNode) child(keywords ...string) *wktNode {
	if n == nil {
		return nil
	}
	for _, c := range n.nodes {
		for _, k := range keywords {
			if c.keyword == k {
				return c
			}
		}
	}
	return nil
}

// children returns all elements with the keyword.
func (n *wktNode) children(keyword string) []*wktNode {
	var out []*wktNode
	for _, c := range n.nodes {
		if c.keyword == keyword {
			out = append(out, c)
		}
	}
	return out
}

// name returns the first text, or "".
func (n *wktNode) name() string {
	if n == nil || len(n.texts) == 0 {
		return ""
	}
	return n.texts[0]
}

// number returns the i-th number; ok is false where there is none.
func (n *wktNode) number(i int) (float64, bool) {
	if n == nil || i >= len(n.numbers) {
		return 0, false
	}
	return n.numbers[i], true
}

// epsg returns the element's EPSG code from AUTHORITY or ID, or 0.
func (n *wktNode) epsg() int {
	id := n.child("ID", "AUTHORITY")
	if id == nil || !strings.EqualFold(id.name(), "EPSG") {
		return 0
	}
	if v, ok := id.number(0); ok && v > 0 && v < 1e7 && v == float64(int(v)) {
		return int(v)
	}
	if len(id.texts) > 1 && strings.Trim(id.texts[1], "0123456789") == "" && len(id.texts[1]) < 8 {
		v, err := strconv.Atoi(id.texts[1])
		if err == nil {
			return v
		}
	}
	return 0
}

// fold makes names of different writers the same: letters, parameters and + only,
// in lower case.
func fold(name string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c >= 'A' && c <= 'Z':
			return c - 'A' + 'a'
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9', c == '+':
			return c
		}
		return -1
	}, name)
}
