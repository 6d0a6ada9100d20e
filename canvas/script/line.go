// Package script prepares one line of text for drawing letter by letter from
// left to right: it puts what is written from right to left into the order in
// which it is seen, and spells out by their code the letters that cannot be
// drawn, so that two names never look the same. It joins Arabic letters by the
// forms that Unicode has for them, knows no faces and places no vowel points.
package script

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// plainBelow is where letters begin that may be missing from a face or be
// written from right to left: before it lie Latin and its extension A.
const plainBelow = 0x180

// Line returns text as its letters stand from left to right. has says which
// letters can be drawn; any other is written as its code point in brackets,
// such as [65E5]. Letters that only steer others (joiners, variation
// selectors, marks of direction) and control characters are left out where
// they cannot be drawn.
func Line(text string, has func(rune) bool) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r >= plainBelow }) {
		return text
	}
	return spelt(seen(joined(text, has)), has)
}

// spelt writes the letters that has refuses by their code.
func spelt(text string, has func(rune) bool) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case steers(r):
		case r < plainBelow || has(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "[%04X]", r)
		}
	}
	return b.String()
}

// steers reports whether a letter is not seen itself.
func steers(r rune) bool {
	return unicode.In(r, unicode.Cf, unicode.Cc, unicode.Variation_Selector)
}

// run is a stretch of one direction.
type run struct {
	text  string
	right bool // written from right to left
}

// seen orders the runs of a text as they stand from left to right. Texts that
// steer their directions by embedding are ordered as if they did not.
func seen(text string) string {
	runs := runsOf(text)
	if !slices.ContainsFunc(runs, func(r run) bool { return r.right }) {
		return text
	}
	if fromRight(text) {
		slices.Reverse(runs)
	} else {
		turnStretches(runs)
	}
	var b strings.Builder
	for _, r := range runs {
		if r.right {
			r.text = bidi.ReverseString(r.text)
		}
		b.WriteString(r.text)
	}
	return b.String()
}

// runsOf splits a text by direction. A text that cannot be split is one run
// from left to right.
func runsOf(text string) []run {
	var p bidi.Paragraph
	if n, err := p.SetString(text); err != nil || n < len(text) { // more than one paragraph
		return []run{{text: text}}
	}
	o, err := p.Order()
	if err != nil {
		return []run{{text: text}}
	}
	var out []run
	for i := range o.NumRuns() {
		r := o.Run(i)
		out = append(out, run{r.String(), r.Direction() == bidi.RightToLeft})
	}
	return out
}

// fromRight reports whether the first letter with a direction is written from
// right to left: rules P2 and P3 of Unicode Standard Annex 9, which give the
// whole line its direction.
func fromRight(text string) bool {
	for _, r := range text {
		switch c, _ := bidi.LookupRune(r); c.Class() {
		case bidi.L:
			return false
		case bidi.R, bidi.AL:
			return true
		}
	}
	return false
}

// turnStretches reverses, in a line from left to right, each stretch of runs
// from right to left with the numbers between them: rule L2 of the annex.
func turnStretches(runs []run) {
	for i := 0; i < len(runs); i++ {
		if !runs[i].right {
			continue
		}
		end := i + 1
		for end+1 < len(runs) && !lettered(runs[end].text) && runs[end+1].right {
			end += 2
		}
		slices.Reverse(runs[i:end])
		i = end
	}
}

// lettered reports whether a run has letters written from left to right.
func lettered(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		c, _ := bidi.LookupRune(r)
		return c.Class() == bidi.L
	})
}
