package session

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// twoSheets is a plan of a checked sheet and of an unchecked one, whose ground is
// turned and moved by so much.
func twoSheets(t testing.TB, turn, eastM, northM float64) (s *Session, sheets [2]plan.ID) {
	t.Helper()
	s, _, _ = bench(t)
	first, _ := s.Sheet()
	must(t, s.AddSheet(Picture{Path: "/maps/north.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}))
	second, _ := s.Sheet()
	sin, cos := math.Sincos(turn)
	for _, c := range []calib.PicturePt{at(250, 250), at(1750, 1750), at(1750, 250)} {
		x, y := 4*c.Col, -4*c.Row
		text := fmt.Sprintf("%.2f %.2f", 50_000+eastM+cos*x-sin*y, 796_000+northM+sin*x+cos*y)
		_, err := s.AddControlPoint(c, text)
		must(t, err)
	}
	must(t, s.do("check", "", s.Plan().SetSheet(pillared(first))))
	if !s.Reader().Verdict(first.ID).Checked {
		t.Fatalf("the first sheet is unchecked: %+v", s.Reader().Verdict(first.ID))
	}
	return s, [2]plan.ID{first.ID, second.ID}
}

// deed is one thing that a person does: which, and up to five numbers.
type deed [6]int

func drawActs(t *rapid.T) []deed {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) deed {
		a := deed{rapid.IntRange(0, 17).Draw(t, "act")}
		for i := 1; i < len(a); i++ {
			a[i] = rapid.IntRange(0, 999).Draw(t, "n")
		}
		return a
	}), 5, 40).Draw(t, "acts")
}

// end is a mark, the end of a leg, or a position picked on the sheet shown.
func (a deed) end(s *Session, n int) (plan.End, error) {
	p := s.Plan()
	switch {
	case n%3 == 0 && len(p.Marks) > 0:
		return plan.AtMark(p.Marks[n%len(p.Marks)]), nil
	case n%3 == 1 && len(p.Legs) > 0:
		return p.Legs[n%len(p.Legs)].To, nil
	}
	pos, err := s.PositionAt(at(float64(200+n), float64(300+a[5])), 0.5)
	return plan.AtPosition(pos), err
}

// row is the ID of a leg or sight.
func (a deed) row(s *Session, n int) plan.ID {
	p := s.Plan()
	if all := len(p.Legs) + len(p.Sights); all > 0 {
		if i := n % all; i < len(p.Legs) {
			return p.Legs[i].ID
		}
		return p.Sights[n%all-len(p.Legs)].ID
	}
	return ""
}

// reference is one that is typed: with letters, in full, or figures alone.
func (a deed) reference(n int) string {
	e, north := 510+n%80, 910+a[4]%80
	switch n % 3 {
	case 0:
		return fmt.Sprintf("NL %03d %03d", e, north)
	case 1:
		return fmt.Sprintf("%03d %03d", e, north)
	}
	return fmt.Sprintf("%d %d", 100*e, 700_000+100*north)
}

func (a deed) do(s *Session, sheets [2]plan.ID) error {
	two := func(f func(x, y plan.End) (plan.ID, error)) error {
		x, err := a.end(s, a[1])
		if err != nil {
			return err
		}
		y, err := a.end(s, a[2])
		if err != nil {
			return err
		}
		_, err = f(x, y)
		return err
	}
	marks := s.Plan().Marks
	switch a[0] {
	case 0, 1:
		return s.ShowSheet(sheets[a[1]%2])
	case 2:
		pos, err := s.PositionAt(at(float64(200+a[1]), float64(300+a[2])), 0.5)
		if err != nil {
			return err
		}
		_, err = s.AddMark("", pos)
		return err
	case 3:
		pos, err := s.ParsePosition(a.reference(a[1]))
		if err != nil {
			return err
		}
		_, err = s.AddMark("", pos)
		return err
	case 4, 5:
		return two(s.KeepLeg)
	case 6:
		return two(s.KeepSight)
	case 7:
		from, err := a.end(s, a[1])
		if err != nil {
			return err
		}
		_, err = s.LegFromTyped(from, fmt.Sprint(a[2]%360), North(a[3]%3), fmt.Sprintf("%d m", 100+a[4]))
		return err
	case 8, 9:
		field := []Field{FieldGrid, FieldMagnetic, FieldTrue, FieldDistance}[a[2]%4]
		return s.SetLegField(a.row(s, a[1]), field, fmt.Sprint(100+a[3]%250))
	case 10:
		return s.SetLegField(a.row(s, a[1]), []Field{FieldFrom, FieldTo}[a[2]%2], a.reference(a[3]))
	case 11:
		to, err := a.end(s, a[3])
		if err != nil {
			return err
		}
		return s.MovePoint(a.row(s, a[1]), int(plan.Which(a[2]%2)), to)
	case 12:
		if id := a.row(s, a[1]); s.Plan().LegIndex(id) >= 0 {
			return s.ReverseLeg(id)
		}
	case 13:
		if len(marks) > 0 && a[2]%2 == 0 {
			return s.Remove(marks[a[1]%len(marks)].ID)
		}
		s.Undo()
	case 14:
		s.Redo()
	case 15:
		if a[1]%8 == 0 {
			return s.RemoveSheet(sheets[1])
		}
		if len(marks) > 0 {
			return s.SetMarkReference(marks[a[1]%len(marks)].ID, a.reference(a[2]))
		}
	case 16: // the unchecked sheet is calibrated by another click
		if err := s.ShowSheet(sheets[1]); err != nil {
			return err
		}
		return s.MoveControlPoint(a[1]%3, at(float64(250+a[2]), float64(1750-a[3])))
	case 17:
		pos, err := s.PositionAt(at(float64(200+a[2]), float64(300+a[3])), 0.5)
		if err != nil || len(marks) == 0 {
			return err
		}
		return s.MovePoint(marks[a[1]%len(marks)].ID, 0, plan.AtPosition(pos))
	}
	return nil
}

// distrusted reports whether cautions speak of the sheet that is not checked.
func distrusted(list []caution.Caution) bool {
	return slices.ContainsFunc(list, func(f caution.Caution) bool {
		return f.Code == caution.Unchecked || f.Code == caution.LettersInferred || f.Code == caution.LettersAstray || f.Code == caution.SheetGone || f.Code == caution.Uncalibrated
	})
}

func apartM(a, b plan.Position) float64 { return math.Hypot(a.Grid.E-b.Grid.E, a.Grid.N-b.Grid.N) }

// differ names the figures of two readings that are not the same.
func differ(a, b leg.Reading) string {
	var out []string
	for _, v := range []struct {
		name string
		a, b float64
		by   float64
	}{
		{"grid bearing", a.Grid.Angle().Deg(), b.Grid.Angle().Deg(), 1e-6},
		{"magnetic bearing", a.Magnetic.Angle().Deg(), b.Magnetic.Angle().Deg(), 1e-6},
		{"back bearing", a.BackMagnetic.Angle().Deg(), b.BackMagnetic.Angle().Deg(), 1e-6},
		{"distance", a.GroundM, b.GroundM, 1e-3},
	} {
		if math.Abs(v.a-v.b) > v.by {
			out = append(out, fmt.Sprintf("%s %.6f and %.6f", v.name, v.a, v.b))
		}
	}
	return strings.Join(out, ", ")
}

// Whatever a person does, what would read otherwise if the unchecked sheet
// lay elsewhere is marked: each position, each reading, each point of a GPX.
func TestWhatRestsOnAnUncheckedSheetIsMarked(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		one, sheets := twoSheets(t, 0, 0, 0)
		two, _ := twoSheets(t, 0.02, 700, -200_000)
		for i, a := range drawActs(r) {
			errOne, errTwo := a.do(one, sheets), a.do(two, sheets)
			if (errOne == nil) != (errTwo == nil) {
				return // one of the two was refused: they have parted
			}
			hold(r, fmt.Sprintf("after act %d %v", i+1, a), one, two)
		}
	})
}

func hold(t *rapid.T, when string, one, two *Session) {
	for i, m := range one.Plan().Marks {
		n := two.Plan().Marks[i]
		if apartM(m.Position, n.Position) > 1e-3 && !(distrusted(one.Reader().CautionsOf(m.Position)) && distrusted(two.Reader().CautionsOf(n.Position))) {
			t.Fatalf("%s: mark %s lies at %v or %v and is not marked: %+v", when, m.Name, m.Position, n.Position, one.Reader().CautionsOf(m.Position))
		}
	}
	rows, others := append(one.Rows(), one.Reader().Sights()...), append(two.Rows(), two.Reader().Sights()...)
	for i, a := range rows {
		b := others[i]
		if a.Err != nil || b.Err != nil {
			continue
		}
		if what := differ(a.Reading, b.Reading); what != "" && !(distrusted(a.Reading.Cautions) && distrusted(b.Reading.Cautions)) {
			t.Fatalf("%s: reading %d from %+v to %+v is not marked and has %s", when, i+1, one.Plan().Resolve(a.FromEnd), one.Plan().Resolve(a.ToEnd), what)
		}
	}
	x, errX := leg.Export(one.Plan(), nil)
	y, errY := leg.Export(two.Plan(), nil)
	if errX != nil || errY != nil {
		return
	}
	points := append(slices.Concat(x.Routes...), x.Marks...)
	for i, q := range append(slices.Concat(y.Routes...), y.Marks...) {
		p := points[i]
		if apart := math.Hypot(p.At.Lat.Deg()-q.At.Lat.Deg(), p.At.Lon.Deg()-q.At.Lon.Deg()); apart > 1e-7 && !distrusted(p.Cautions) {
			t.Fatalf("%s: point %s of the GPX says nothing of it: %v", when, p.Name, p.Cautions)
		}
	}
}
