package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"legwright/cmd/internal/checksheet"
)

// corner is a position just inside a corner of the picture, 0 to 3 clockwise from
// the top left.
func corner(i int) checksheet.Pt {
	p := checksheet.Pt{X: 60, Y: 60}
	if i == 1 || i == 2 {
		p.X = checksheet.Width - p.X
	}
	if i >= 2 {
		p.Y = checksheet.Height - p.Y
	}
	return p
}

// somewhere is where evidence of a kind is found: latitude and longitude at a corner,
// listed features anywhere.
func somewhere(k checksheet.EvidenceKind, dice *rand.Rand) checksheet.Pt {
	if k.LatLon() {
		return corner(dice.IntN(4))
	}
	return checksheet.Pt{X: checksheet.Width * dice.Float64(), Y: checksheet.Height * dice.Float64()}
}

// allRow puts slips of all points and of names into sheets, checks them by one right piece of
// evidence and counts those that get checked though figures are off. A
// wrong name is always off: it is latitude and longitude that it makes wrong.
func allRow(r run) error {
	kinds := append(checksheet.EvidenceKinds(), checksheet.EastNorth)
	c := tally(eachSlip(r, 4, r.n(100), checksheet.AllSlips(), func(kind string, s *checksheet.Sheet, slip checksheet.Slip, dice *rand.Rand) outcome {
		k := kinds[dice.IntN(len(kinds))]
		v, err := s.EvidenceAt(k, somewhere(k, dice))
		if err != nil {
			v, err = s.EvidenceAt(checksheet.Second, corner(dice.IntN(4)))
		}
		if err != nil {
			return outcome{}
		}
		a := ask(s, v)
		hit := a.Checked && (len(slip.Points) == 0 || a.off(s.Truth) > far)
		if hit {
			r.keep(s, slip, checksheet.CheckedWrong, v)
		}
		return outcome{kind + ", " + string(v.Kind), hit}
	}))
	r.put(measured{"all_checked_off", float64(c.total().hits), c.total().of, c.String()})
	return nil
}

// firstGood draws a sound sheet of four and more spread points and the first
// evidence of a kind that is fine enough for its squares.
func firstGood(k checksheet.EvidenceKind, p checksheet.Paper, mpp float64, dice *rand.Rand) (*checksheet.Sheet, []checksheet.Evidence) {
	for {
		recipe := checksheet.Recipe{Paper: p, Layout: checksheet.Spread, N: 4 + dice.IntN(9), MPP: mpp}
		if mpp > 0 {
			recipe.StepM = 1000
		}
		s := checksheet.Make(recipe, dice)
		if !s.Good(k) {
			continue
		}
		if v, err := s.EvidenceAt(k, somewhere(k, dice)); err == nil {
			return s, []checksheet.Evidence{v}
		}
	}
}

// judged is what evidence of one kind did for a sound sheet.
type judged struct {
	kind, paper string
	checked     bool
	withinM     float64
	usual       bool // 5 m a pixel
	beyond      bool // the farthest error is more than withinM
}

const secondCorner = checksheet.EvidenceKind("second corner")

func judgeSound(k checksheet.EvidenceKind, p checksheet.Paper, usual bool, dice *rand.Rand) judged {
	mpp, first := 0.0, k
	if usual {
		mpp = 5
	}
	if k == secondCorner {
		first = checksheet.Second
	}
	s, list := firstGood(first, p, mpp, dice)
	if k == secondCorner {
		for i := range 4 {
			if c := corner(i); math.Hypot(c.X-list[0].At.X, c.Y-list[0].At.Y) > checksheet.Width {
				v, _ := s.EvidenceAt(first, c)
				list = append(list, v)
			}
		}
	}
	a := ask(s, list...)
	j := judged{kind: string(k), paper: string(p), checked: a.Checked, withinM: a.WithinM, usual: usual}
	if a.Checked {
		j.beyond = a.farthest(s.Truth) > a.WithinM
	}
	return j
}

// soundPapers are those that evidence is measured on.
func soundPapers() []checksheet.Paper {
	return []checksheet.Paper{checksheet.Flat, checksheet.Stretch, checksheet.Shrunk03, checksheet.Shrunk1, checksheet.Fold, checksheet.Bend}
}

// evidenceRow checks sound sheets by the first good evidence.
func evidenceRow(r run) error {
	kinds, papers := append(checksheet.EvidenceKinds(), secondCorner), soundPapers()
	list := each(r, 5, r.n(40)*len(kinds)*len(papers)*2, func(i int, dice *rand.Rand) judged {
		return judgeSound(kinds[i/2%len(kinds)], papers[i/2/len(kinds)%len(papers)], i%2 == 0, dice)
	})
	checked, alone, beyond, within := counts{}, counts{}, counts{}, map[string][]float64{}
	for _, j := range list {
		checked.add(j.kind, j.checked)
		alone.add(j.kind+", "+j.paper, j.checked)
		if j.checked {
			beyond.add(j.kind+", "+j.paper, j.beyond)
		}
		if j.checked && j.usual {
			within[j.kind] = append(within[j.kind], j.withinM)
		}
	}
	r.put(measured{"sound_checked_least", checked.least(), checked.total().of, checked.String() + alone.String()})
	r.put(measured{"checked_error_beyond", beyond.total().percent(), beyond.total().of, beyond.String()})
	for i, k := range checksheet.EvidenceKinds() {
		name := []string{"tenth", "second", "6", "8", "10"}[i]
		r.put(measured{"checked_within_" + name, median(within[string(k)]), len(within[string(k)]), fmt.Sprintf("median to ± of %s\n", k)})
	}
	return nil
}

// farthest is the farthest that a trusted position of the probes lies from the truth,
// in metres.
func (a answer) farthest(t *checksheet.Truth) (most float64) {
	for _, p := range checksheet.Probes() {
		if ok, _ := a.c.Trusted(picturePt(p)); ok {
			g := t.Grid(p)
			got := a.c.ToGrid(picturePt(p))
			most = max(most, math.Hypot(got.E-g.E, got.N-g.N))
		}
	}
	return most
}

// median is the upper of the middle values; 0 of none.
func median(list []float64) float64 {
	if len(list) == 0 {
		return 0
	}
	list = slices.Sorted(slices.Values(list))
	return list[len(list)/2]
}
