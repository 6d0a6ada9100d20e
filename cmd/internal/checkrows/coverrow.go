package main

import (
	"math"
	"math/rand/v2"
	"slices"

	"legwright/cmd/internal/checksheet"
)

// setting is one arrangement of control points on one paper.
type setting struct {
	name    string
	paper   checksheet.Paper
	layout  checksheet.Layout
	n       int
	noisePx float64
	trusted bool // must be trusted
	mixed   bool // counts for the mixture of papers
	loose   bool // clicks of another σ than the program takes
}

// settings are the arrangements whose stated 95 % are measured.
func settings() (list []setting) {
	for _, p := range []checksheet.Paper{checksheet.Flat, checksheet.Stretch, checksheet.Fold, checksheet.Bend} {
		list = append(list,
			setting{"2 spread", p, checksheet.Spread, 2, 0, true, true, false},
			setting{"3 spread", p, checksheet.Spread, 3, 0, true, true, false},
			setting{"4 spread", p, checksheet.Spread, 4, 0, true, true, false},
			setting{"6 spread", p, checksheet.Spread, 6, 0, true, true, false},
			setting{"10 spread", p, checksheet.Spread, 10, 0, true, true, false},
			setting{"6 clustered", p, checksheet.Clustered, 6, 0, false, true, false})
	}
	for _, n := range []int{6, 10} {
		list = append(list,
			setting{"photograph", checksheet.WithEXIF, checksheet.Spread, n, 0, true, false, false},
			setting{"2 px clicks", checksheet.Flat, checksheet.Spread, n - 2, 2, false, false, true})
	}
	return append(list, setting{"photograph", checksheet.Lens, checksheet.Spread, 10, 0, true, false, false})
}

// held is how many positions of one sheet lie within their stated 95 %, and how many
// are trusted.
type held struct {
	setting
	within, trusted, of int
	stopped             bool
}

// hold draws positions anywhere in the picture of a sheet.
func (k setting) hold(dice *rand.Rand) held {
	s := checksheet.Make(checksheet.Recipe{Paper: k.paper, Layout: k.layout, N: k.n, StepM: 1000, MPP: 5, NoisePx: k.noisePx}, dice)
	a := ask(s)
	h := held{setting: k, stopped: a.accused(), of: 10}
	for range h.of {
		p := checksheet.Pt{X: checksheet.Width * dice.Float64(), Y: checksheet.Height * dice.Float64()}
		at := picturePt(p)
		if a.c == nil {
			continue
		}
		if ok, _ := a.c.Trusted(at); !ok {
			continue
		}
		h.trusted++
		want, got := s.Truth.Grid(p), a.c.ToGrid(at)
		if math.Hypot(got.E-want.E, got.N-want.N) <= a.c.HalfWidth95M(at) {
			h.within++
		}
	}
	return h
}

// coverRow measures what the stated 95 % of positions are worth on sheets of 1 km
// squares at 5 m a pixel, and how much of those sheets is trusted.
func coverRow(r run) error {
	kinds := settings()
	list := each(r, 3, r.n(300)*len(kinds), func(i int, dice *rand.Rand) held { return kinds[i%len(kinds)].hold(dice) })
	mixed, alone, loose, trusted := counts{}, counts{}, counts{}, counts{}
	for _, h := range list {
		name := h.name + ", " + string(h.paper)
		for i := range h.of {
			if h.setting.trusted {
				trusted.add(name, i < h.trusted)
			}
			switch {
			case i >= h.trusted:
			case h.loose:
				loose.add(name, i < h.within || h.stopped)
			default:
				alone.add(name, i < h.within)
				if h.mixed {
					mixed.add(h.name, i < h.within)
				}
			}
		}
	}
	text := mixed.String() + alone.String()
	r.put(measured{"stated95_mixed_least", mixed.least(), mixed.total().of, text})
	r.put(measured{"stated95_mixed_most", mixed.most(), mixed.total().of, text})
	r.put(measured{"stated95_paper_least", alone.least(), alone.total().of, alone.String()})
	r.put(measured{"stated95_loose_least", loose.least(), loose.total().of, loose.String()})
	r.put(measured{"trusted_least", trusted.least(), trusted.total().of, trusted.String()})
	return nil
}

// priceRow is how wide the stated 95 % are: the median over the picture of sheets of
// four and of six spread points.
func priceRow(r run) error {
	names := map[checksheet.Paper]string{checksheet.Flat: "flat", checksheet.Shrunk03: "shrunk"}
	for _, p := range []checksheet.Paper{checksheet.Flat, checksheet.Shrunk03} {
		for i, n := range []int{4, 6} {
			list := each(r, 8, r.n(300), func(_ int, dice *rand.Rand) (widths []float64) {
				a := ask(checksheet.Make(checksheet.Recipe{Paper: p, Layout: checksheet.Spread, N: n, StepM: 1000, MPP: 5}, dice))
				for _, at := range checksheet.Probes() {
					if a.c != nil {
						widths = append(widths, a.c.HalfWidth95M(picturePt(at)))
					}
				}
				return widths
			})
			all := slices.Concat(list...)
			r.put(measured{"half_width_" + names[p] + []string{"_4", "_6"}[i], median(all), len(all), ""})
		}
	}
	return nil
}
