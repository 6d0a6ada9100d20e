package main

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"legwright/app/calib/slips"
	"legwright/app/caution"
	"legwright/cmd/internal/checksheet"
)

// naming is what the program names for a slip that was put in.
type naming struct {
	class, kind string
	right       bool // the right point alone, or the right line with its counterpart
	wrong       bool // a name or set without the right one
	alone       bool // one slip was named
	obeyed      bool // and undoing it leaves the sheet silent and off
}

// undone is the sheet with a slip taken back as the program words it.
func undone(s *checksheet.Sheet, slip slips.Slip) *checksheet.Sheet {
	out := *s
	out.Points = slices.Clone(s.Points)
	for _, x := range slip.Shifts() {
		p := &out.Points[x.I]
		p.Ref = checksheet.Coord{E: p.Ref.E - x.East, N: p.Ref.N - x.North}
		p.Text = checksheet.Plain(p.Ref)
	}
	return &out
}

// others are the points that a slip leaves as they are.
func others(s *checksheet.Sheet, points []int) []int {
	var out []int
	for i := range s.Points {
		if !slices.Contains(points, i) {
			out = append(out, i)
		}
	}
	return out
}

// named reports whether a set holds a slip of just these points.
func named(set []slips.Slip, points []int) bool {
	return slices.ContainsFunc(set, func(s slips.Slip) bool {
		return slices.Equal(slices.Sorted(slices.Values(s.Points)), points)
	})
}

// judgeNames asks what the program names.
func judgeNames(kind string, s *checksheet.Sheet, slip checksheet.Slip, dice *rand.Rand) naming {
	a := ask(s)
	n := naming{kind: kind}
	if a.c == nil {
		return n
	}
	points := slices.Sorted(slices.Values(slip.Points))
	rest := others(s, points)
	in := named(a.Named, points) || slip.Line() && named(a.Named, rest)
	switch {
	case slip.Line() && len(rest) > 1:
		n.right = named(a.Named, points) && named(a.Named, rest)
	case len(s.Points) >= 5:
		n.right = in && len(a.Named) == 1
	default:
		n.right = in && len(a.Named) <= 2
	}
	n.wrong = len(a.Named) > 0 && !in
	if len(a.Named) == 0 {
		return n
	}
	n.alone = len(a.Named) == 1 && slices.Contains(a.stops, string(caution.SlipNamed))
	fixed := undone(s, a.Named[dice.IntN(len(a.Named))])
	fixed.Chosen = true // as the session marks a point that is corrected while slips are named
	b := ask(fixed)
	n.obeyed = n.alone && !b.told() && b.off(s.Truth) > far
	return n
}

// nameOne draws a sheet with a slip and asks what the program names. Two lines of one
// figure are no line to name.
func nameOne(p checksheet.Paper, k checksheet.SlipKind, dice *rand.Rand) naming {
	least := 4
	if p.Photo() {
		least = 6
	}
	layouts := []checksheet.Layout{checksheet.Spread, checksheet.Rows}
	for {
		recipe := checksheet.Recipe{Paper: p, Layout: layouts[dice.IntN(2)], N: least + dice.IntN(13-least)}
		s := checksheet.Make(recipe, dice)
		slip, ok := s.Put(k)
		if !ok || slip.Merges {
			continue
		}
		n := judgeNames(fmt.Sprintf("%s, %s", p, slip.Kind), s, slip, dice)
		n.class = classOf(p, slip, recipe.N)
		return n
	}
}

// nameRow puts slips into sheets of four and more points, half of them flat and half
// photographs of six and more, and holds what is named against the slip.
func nameRow(r run) error {
	papers := []checksheet.Paper{checksheet.Flat, checksheet.Flat, checksheet.WithEXIF, checksheet.Oblique}
	kinds := checksheet.PointSlips()
	list := each(r, 6, r.n(100)*len(kinds)*len(papers), func(i int, dice *rand.Rand) naming {
		return nameOne(papers[i/len(kinds)%len(papers)], kinds[i%len(kinds)], dice)
	})
	flat, photo, wrong, obeyed, detail := counts{}, counts{}, counts{}, counts{}, counts{}
	for _, n := range list {
		right := flat
		if n.class[0] == 'p' {
			right = photo
		}
		right.add(n.class, n.right)
		detail.add(n.kind, n.right)
		wrong.add(n.kind, n.wrong)
		if n.alone {
			obeyed.add(n.kind, n.obeyed)
		}
	}
	r.put(measured{"names_flat_least", flat.least(), flat.total().of, flat.String() + detail.String()})
	r.put(measured{"names_photo_least", photo.least(), photo.total().of, photo.String() + detail.String()})
	r.put(measured{"names_wrong", wrong.total().percent(), wrong.total().of, wrong.String()})
	r.put(measured{"names_obeyed_off", float64(obeyed.total().hits), obeyed.total().of, obeyed.String()})
	return nil
}

// classOf is the medium, what slipped and among how many points.
func classOf(p checksheet.Paper, slip checksheet.Slip, n int) string {
	medium, what, many := "flat", "points", "5 and more"
	if p.Photo() {
		medium = "photographs"
	}
	if slip.Line() {
		what = "lines"
	}
	if n < 5 {
		many = "4"
	}
	return fmt.Sprintf("%s, %s of %s", medium, what, many)
}

// chosenRow puts slips into sheets whose points allow several explanations, takes one
// of these and counts the sheets on which no slip is open any more.
func chosenRow(r run) error {
	kinds := []checksheet.SlipKind{checksheet.LineOne, checksheet.BeyondOne, checksheet.PointOne}
	list := each(r, 7, r.n(300), func(i int, dice *rand.Rand) outcome {
		for {
			s, slip := slipped(checksheet.Flat, kinds[i%len(kinds)], dice)
			a := ask(s)
			if a.c == nil || len(a.Named) < 2 {
				continue
			}
			fixed := undone(s, a.Named[dice.IntN(len(a.Named))])
			fixed.Chosen = true
			b := ask(fixed)
			return outcome{string(slip.Kind), b.c != nil && !b.told()}
		}
	})
	c := tally(list)
	r.put(measured{"chosen_settled", float64(c.total().hits), c.total().of, c.String()})
	return nil
}
