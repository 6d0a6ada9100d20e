package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"legwright/app/geodesy"
	"legwright/cmd/internal/checksheet"
)

// typedRow types positions with one slip of punctuation and counts those that are
// read as another position without a question, on a sheet without ground yet and on one
// that has some.
func typedRow(r run) error {
	notations := checksheet.Notations()
	type read struct {
		outcome
		text string
		err  error
	}
	list := each(r, 9, r.n(2000)*len(notations), func(i int, dice *rand.Rand) read {
		for {
			t, err := checksheet.Type(notations[i%len(notations)], dice)
			right := t.Text
			name := t.Punctuate(dice)
			if err == nil && name == "" {
				continue
			}
			hit := elsewhere(t, nil) || elsewhere(t, &geodesy.Grid{E: t.Near.E, N: t.Near.N})
			return read{outcome{fmt.Sprintf("%s, %s", notations[i%len(notations)], name), hit}, fmt.Sprintf("%q for %q", t.Text, right), err}
		}
	})
	c, examples, shown := counts{}, strings.Builder{}, map[string]int{}
	for _, o := range list {
		if o.err != nil {
			return o.err
		}
		c.add(o.kind, o.hit)
		if o.hit && shown[o.kind] < 2 {
			shown[o.kind]++
			fmt.Fprintf(&examples, "%s: %s\n", o.kind, o.text)
		}
	}
	r.put(measured{"typed_elsewhere", float64(c.total().hits), c.total().of, c.String() + examples.String()})
	return nil
}

// elsewhere reports whether a text is read, and as a position farther from the true one
// than its own last figure and the square it means.
func elsewhere(t checksheet.Typed, near *geodesy.Grid) bool {
	sys, err := geodesy.Lookup(t.Code)
	if err != nil {
		return true
	}
	ref, err := geodesy.ParseRef(t.Text, geodesy.RefContext{System: sys, Near: near})
	if err != nil {
		return false
	}
	g, _ := ref.Centre()
	if ref.System != nil && ref.System.Code() != t.Code {
		return true
	}
	return math.Hypot(g.E-t.Ground.E, g.N-t.Ground.N) > 1.5*max(t.FineM, ref.SquareM)
}
