package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/cmd/internal/checksheet"
)

// The grid that made pictures show: intersection (0, 0) and its squares.
const (
	gridE, gridN = 400_000.0, 5_200_000.0
	gridM        = 1000.0
)

// found is a picture's grid as the program takes it from two named intersections.
type found struct {
	points []calib.ControlPoint
	why    error
}

// take finds the lines of a picture of a kind and names the two farthest intersections of its
// grid, as a person does who sees the printed figures.
func take(p *checksheet.Picture, k checksheet.Printed) found {
	l, why, err := lattice.Find(context.Background(), p.Image, nil)
	if l == nil {
		return found{why: errors.Join(err, fmt.Errorf("no lines: %s", why))}
	}
	var names []lattice.Name
	for i := -40; i <= 40; i++ {
		for j := -40; j <= 40; j++ {
			at, ok := p.Place(i, j)
			if _, on := l.On(picturePt(at)); !ok || !on {
				continue
			}
			n := lattice.Name{At: picturePt(at), Ref: geodesy.Grid{E: gridE + gridM*float64(i), N: gridN - gridM*float64(j)}}
			if len(names) < 2 {
				names = append(names, n)
			}
			names[len(names)-1] = n
		}
	}
	if len(names) == 0 { // a person takes other lines for the grid
		c := l.Intersections[0]
		names = []lattice.Name{{At: calib.PicturePt{Col: c.Col, Row: c.Row}, Ref: geodesy.Grid{E: gridE, N: gridN}}}
	}
	n := lattice.Naming{Names: names, Medium: medium(k)}
	points, err := l.Named(n)
	if errors.Is(err, lattice.ErrOpenSquare) {
		n.SquareM = gridM
		points, err = l.Named(n)
	}
	return found{points, err}
}

// medium is what a person says of the picture: hard ones are held askew.
func medium(k checksheet.Printed) calib.Medium {
	if k == checksheet.HardGrid {
		return calib.Photograph
	}
	return calib.Scan
}

// wrongPx is the farthest that a named intersection lies from its true position, in pixels.
func (f found) wrongPx(p *checksheet.Picture) (most float64) {
	for _, c := range f.points {
		right, down := p.Number(checksheet.Pt{X: c.At.Col, Y: c.At.Row})
		most = max(most, p.Square*math.Hypot(gridE+gridM*right-c.Ref.E, gridN-gridM*down-c.Ref.N)/gridM)
	}
	return most
}

// ellipses compares positions all over the grid with the stated 95 % of a calibration by
// the named intersections.
func (f found) ellipses(p *checksheet.Picture, k checksheet.Printed, dice *rand.Rand) (within, of int) {
	b := p.Image.Bounds()
	s := plan.Sheet{
		ID: sheetID, Picture: "made.png", Width: b.Dx(), Height: b.Dy(), Medium: medium(k),
		Code: "EPSG:32630", Points: f.points,
	}
	a := askSheet(s)
	for of < 20 && a.c != nil {
		at := checksheet.Pt{X: float64(b.Dx()) * (0.15 + 0.7*dice.Float64()), Y: float64(b.Dy()) * (0.15 + 0.7*dice.Float64())}
		right, down := p.Number(at)
		got := a.c.ToGrid(picturePt(at))
		of++
		if math.Hypot(got.E-gridE-gridM*right, got.N-gridN+gridM*down) <= a.c.HalfWidth95M(picturePt(at)) {
			within++
		}
	}
	return within, of
}

// taken is what became of one picture.
type taken struct {
	kind, why        string
	named, wrong     bool
	within, ellipses int
}

// takeOne draws a picture, takes its grid and compares it with the truth.
func takeOne(k checksheet.Printed, dice *rand.Rand) taken {
	p := checksheet.Draw(k, dice)
	f := take(p, k)
	const near = 3 // pixels
	t := taken{kind: string(k), named: len(f.points) > 0, wrong: len(f.points) > 0 && f.wrongPx(p) > near}
	if f.why != nil {
		t.why = f.why.Error()
	}
	if (k == checksheet.CleanGrid || k == checksheet.HardGrid) && t.named && !t.wrong {
		t.within, t.ellipses = f.ellipses(p, k, dice)
	}
	return t
}

// gridRow takes printed grids from drawn pictures.
func gridRow(r run) error {
	kinds := []checksheet.Printed{
		checksheet.CleanGrid, checksheet.HardGrid, checksheet.Tenths,
		checksheet.Framed, checksheet.Graticule, checksheet.Linework, checksheet.Framed,
	}
	list := each(r, 11, r.n(50)*len(kinds), func(i int, dice *rand.Rand) taken { return takeOne(kinds[i%len(kinds)], dice) })
	right, wrong, ellipses, whys := counts{}, counts{}, counts{}, counts{}
	for _, t := range list {
		right.add(t.kind, t.named && !t.wrong)
		wrong.add(t.kind, t.wrong)
		for i := range t.ellipses {
			ellipses.add(t.kind, i < t.within)
		}
		if !t.named && t.kind != string(checksheet.Graticule) && t.kind != string(checksheet.Linework) {
			whys.add(t.kind+" not named: "+t.why[:min(len(t.why), 60)], true)
		}
	}
	text := right.String() + ellipses.String() + whys.String()
	put := func(name string, c counts, k checksheet.Printed) {
		s := c.of(string(k))
		r.put(measured{name, s.percent(), s.of, text})
	}
	put("grid_clean_ellipses", ellipses, checksheet.CleanGrid)
	put("grid_hard_ellipses", ellipses, checksheet.HardGrid)
	put("grid_tenths_named", right, checksheet.Tenths)
	r.put(measured{"grid_wrong", float64(wrong.total().hits), wrong.total().of, wrong.String()})
	return nil
}
