package main

import (
	"fmt"
	"math/rand/v2"

	"legwright/cmd/internal/checksheet"
)

// setting is one arrangement of control points.
type setting struct {
	name   string
	layout checksheet.Layout
	n      int
}

func settings() []setting {
	return []setting{
		{"2 spread", checksheet.Spread, 2},
		{"3 spread", checksheet.Spread, 3},
		{"4 spread", checksheet.Spread, 4},
		{"6 spread", checksheet.Spread, 6},
		{"10 spread", checksheet.Spread, 10},
		{"6 clustered", checksheet.Clustered, 6},
	}
}

// mixture are the papers of the stated 95 %, a quarter each.
func mixture() []checksheet.Paper {
	return []checksheet.Paper{checksheet.Flat, checksheet.Stretch, checksheet.Fold, checksheet.Bend}
}

// held is how many of some positions lie within their stated 95 %, and how many are
// trusted.
type held struct {
	kind                string
	paper               checksheet.Paper
	within, trusted, of int
	told                bool
	halfWidthM          float64
}

// hold draws positions anywhere in the picture of a sheet.
func hold(kind string, s *checksheet.Sheet, dice *rand.Rand) held {
	h := held{kind: kind, paper: s.Paper}
	a := ask(s)
	if a.told() {
		h.told = true
	}
	if a.c == nil {
		return h
	}
	for range 10 {
		p := checksheet.Pt{X: checksheet.Width * dice.Float64(), Y: checksheet.Height * dice.Float64()}
		at := picturePt(p)
		h.of++
		h.halfWidthM += a.c.HalfWidth95M(at) / 10
		if ok, _ := a.c.Trusted(at); !ok {
			continue
		}
		h.trusted++
		want := s.Truth.Grid(p)
		g := a.c.ToGrid(at)
		if withinEllipse(a.c.Covariance(at, 0), g.E-want.E, g.N-want.N) {
			h.within++
		}
	}
	return h
}

// coverRow measures what the stated 95 % of positions are worth, on sheets of 1 km
// squares at 5 m a pixel.
func coverRow(r run) error {
	var kinds []setting
	var papers []checksheet.Paper
	for _, k := range settings() {
		for _, p := range mixture() {
			kinds, papers = append(kinds, k), append(papers, p)
		}
	}
	list := each(r, 3, r.n(300)*len(kinds), func(i int, dice *rand.Rand) held {
		k, p := kinds[i%len(kinds)], papers[i%len(kinds)]
		return hold(k.name, checksheet.Make(checksheet.Recipe{Paper: p, Layout: k.layout, N: k.n, StepM: 1000, MPP: 5}, dice), dice)
	})
	by, alone := counts{}, counts{}
	for _, h := range list {
		for i := range h.trusted {
			by.add(h.kind, i < h.within)
			alone.add(fmt.Sprintf("%s, %s", h.kind, h.paper), i < h.within)
		}
	}
	text := by.String() + alone.String()
	r.put(measured{"stated95_mixed_least", by.least(), by.total().of, text})
	r.put(measured{"stated95_mixed_most", by.most(), by.total().of, text})
	r.put(measured{"stated95_paper_least", alone.least(), alone.total().of, alone.String()})
	return nil
}
