package main

import (
	"fmt"
	"math/rand/v2"

	"legwright/cmd/internal/checksheet"
)

// drawn is the usual mixture of sheets on one paper: 3 to 12 points in every layout.
func drawn(paper checksheet.Paper, dice *rand.Rand) *checksheet.Sheet {
	layouts := []checksheet.Layout{checksheet.Spread, checksheet.Spread, checksheet.Rows, checksheet.Rows, checksheet.RowAndOne, checksheet.Clustered}
	r := checksheet.Recipe{Paper: paper, Layout: layouts[dice.IntN(len(layouts))], N: 3 + dice.IntN(10)}
	if r.Layout == checksheet.Rows {
		r.N = []int{4, 6, 8, 9, 10, 12}[dice.IntN(6)]
	}
	if r.Layout == checksheet.RowAndOne {
		r.N = 4 + dice.IntN(3)
	}
	return checksheet.Make(r, dice)
}

// slipped draws sheets until one has room for the slip.
func slipped(paper checksheet.Paper, k checksheet.SlipKind, dice *rand.Rand) (*checksheet.Sheet, checksheet.Slip) {
	for {
		s := drawn(paper, dice)
		if slip, ok := s.Put(k); ok {
			return s, slip
		}
	}
}

// eachSlip does something for n sheets of each kind of slip on each paper.
func eachSlip[T any](r run, row uint64, n int, kinds []checksheet.SlipKind, do func(kind string, s *checksheet.Sheet, slip checksheet.Slip, dice *rand.Rand) T) []T {
	papers := checksheet.Papers()
	return each(r, row, n*len(kinds)*len(papers), func(i int, dice *rand.Rand) T {
		k, p := kinds[i%len(kinds)], papers[i/len(kinds)%len(papers)]
		s, slip := slipped(p, k, dice)
		return do(fmt.Sprintf("%s, %s", p, k), s, slip, dice)
	})
}

// outcome is whether something happened to a sheet of a kind.
type outcome struct {
	kind string
	hit  bool
}

func tally(list []outcome) counts {
	c := counts{}
	for _, o := range list {
		if o.kind != "" {
			c.add(o.kind, o.hit)
		}
	}
	return c
}

// slipRow puts slips of points and lines into sheets and counts those that are
// silent though figures are off.
func slipRow(r run) error {
	c := tally(eachSlip(r, 1, r.n(200), checksheet.PointSlips(), func(kind string, s *checksheet.Sheet, slip checksheet.Slip, _ *rand.Rand) outcome {
		a := ask(s)
		hit := !a.told() && a.off(s.Truth) > far
		if hit {
			r.keep(s, slip, checksheet.Silent)
		}
		return outcome{kind, hit}
	}))
	r.put(measured{"slips_silent_off", float64(c.total().hits), c.total().of, c.String()})
	return nil
}
