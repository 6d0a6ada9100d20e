package planfile

import (
	"fmt"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

// reader turns shapes into a plan and remembers the first thing that cannot
// be, and which texts had to be mended.
type reader struct {
	err    error
	mended []string
	grids  map[grid]geodesy.Code
}

// line reads a text of one line. Control characters, which other programs may
// have left there, are replaced and told: a walk is not refused for them.
func (r *reader) line(what, text string) string { return r.text(what, text, false) }

// lines reads a text that may have several lines.
func (r *reader) lines(what, text string) string { return r.text(what, text, true) }

func (r *reader) text(what, text string, lines bool) string {
	out, mended := plan.MendText(text, lines)
	if mended {
		r.mended = append(r.mended, fmt.Sprintf("%s %q", what, shortened(out)))
	}
	return out
}

// shortened cuts a text to what fits into a sentence.
func shortened(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// words says which texts were mended, or nothing.
func (r *reader) words() []string {
	const named = 5
	n := len(r.mended)
	if n == 0 {
		return nil
	}
	list := strings.Join(r.mended[:min(n, named)], ", ")
	if n > named {
		list += fmt.Sprintf(" and %d more", n-named)
	}
	return []string{"control characters in the file were replaced by \ufffd: " + list}
}

func (r *reader) fail(format string, args ...any) {
	if r.err == nil {
		r.err = &Broken{fmt.Sprintf(format, args...)}
	}
}

// each maps a list; nothing becomes an empty list, not null.
func each[A, B any](list []A, f func(A) B) []B {
	out := make([]B, len(list))
	for i, v := range list {
		out[i] = f(v)
	}
	return out
}

// list maps a list; an empty one becomes nil.
func list[A, B any](in []A, f func(A) B) []B {
	if len(in) == 0 {
		return nil
	}
	return each(in, f)
}
