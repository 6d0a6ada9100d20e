package report

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// box stands for what the page's type cannot hold.
const box = '□'

// mostLetters is how many letters of a text are looked at: a page holds no more.
const mostLetters = 1500

// clean keeps what the type can write: it knows letters of the basic plane
// only, and control characters would move its pen.
func clean(text string) string {
	if r := []rune(text); len(r) > mostLetters {
		text = string(r[:mostLetters]) + "…"
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r > 0xffff || r == utf8.RuneError || unicode.IsControl(r):
			return box
		}
		return r
	}, text)
}

// sentence gives a text a capital and a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	first, n := utf8.DecodeRuneInString(text)
	text = string(unicode.ToUpper(first)) + text[n:]
	if !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
}

// metres writes a length with as many digits as people use.
func metres(m float64) string {
	a := math.Abs(m)
	switch {
	case a < 0.005:
		return "0.00"
	case a < 10:
		return strconv.FormatFloat(m, 'f', 2, 64)
	case a < 100:
		return strconv.FormatFloat(m, 'f', 1, 64)
	}
	return strconv.FormatFloat(m, 'f', 0, 64)
}

// minus writes a figure's minus as wide as its plus.
func minus(text string) string { return strings.Replace(text, "-", "−", 1) }

// roundDown is the greatest of 1, 2 and 5 times a power of ten that is not
// above v; 1 where v is less.
func roundDown(v float64) float64 {
	if !(v > 1) || math.IsInf(v, 0) {
		return 1
	}
	tens := math.Pow(10, math.Floor(math.Log10(v)*(1+1e-12)))
	for _, k := range []float64{5, 2} {
		if k*tens <= v*(1+1e-9) {
			return k * tens
		}
	}
	return tens
}
