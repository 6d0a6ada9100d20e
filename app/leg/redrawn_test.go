package leg

import (
	"math"
	"testing"

	"legwright/app/calib"
	"legwright/app/plan"
)

// Drawing a page finer makes neither its file nor a click on the coarser picture any
// better: each leg keeps its ±, each piece of evidence what it may lie off, and the
// sheet its verdict. Drawn coarse again, they are what they were.
func TestRedrawingAPageKeepsEveryError(t *testing.T) {
	t.Parallel()
	byFile := func(sigmaM float64) plan.Sheet {
		s := sheetOf()
		s.World, s.WorldM = &[6]float64{5, 0, 50_000, 0, -5, 800_000}, sigmaM
		return pillared(s)
	}
	photo := checkedSheet()
	photo.Medium = calib.Photograph
	for name, s := range map[string]plan.Sheet{
		"control points": checkedSheet(), "photograph": photo, "a file that states nothing": byFile(0), "a file that states ± 24 m": byFile(12),
	} {
		p := redrawable(t, s)
		for _, times := range [][]int{{2}, {3}, {2, 2}, {4, 1}} {
			q := p
			for _, k := range times {
				q = q.RedrawSheet(s.ID, plan.Page{Number: 1, DPI: 100 * float64(k)}, k*s.Width, k*s.Height, 100*float64(k))
			}
			sameErrors(t, name, readerOf(t, p), readerOf(t, q), times)
		}
	}
}

// redrawable is a plan with legs between points picked on a sheet, near and far, and one
// from such a point to a typed one.
func redrawable(t *testing.T, s plan.Sheet) *plan.Plan {
	t.Helper()
	s.DPI, s.Page = 100, plan.Page{Number: 1, DPI: 100}
	p := plan.New(day).SetSheet(s)
	from := plan.AtPosition(pick(t, s, 600, 700))
	ends := []plan.Position{pick(t, s, 610, 690), pick(t, s, 950, 980), pick(t, s, 1900, 200), typed(27700, 56_000, 795_000)}
	for i, to := range ends {
		p = p.AddLeg(plan.Leg{ID: plan.ID("leg-" + string(rune('1'+i))), From: from, To: plan.AtPosition(to)})
	}
	return p
}

func sameErrors(t *testing.T, name string, before, after *Reader, times []int) {
	t.Helper()
	same := func(what string, was, is float64) {
		t.Helper()
		if !(math.Abs(is-was) <= 1e-3*was+1e-9) {
			t.Errorf("%s, drawn × %v: %s was %.6g, is %.6g", name, times, what, was, is)
		}
	}
	for i := range before.Plan().Legs {
		a, b := legOf(t, before, i), legOf(t, after, i)
		same("σ of the distance of "+string(before.Plan().Legs[i].ID), a.DistanceSigmaM, b.DistanceSigmaM)
		same("σ of its bearing", a.BearingSigma.Rad(), b.BearingSigma.Rad())
		same("σ of its magnetic bearing", a.MagneticSigma.Rad(), b.MagneticSigma.Rad())
		same("σ of its start", a.FromSigmaM, b.FromSigmaM)
		same("σ of its end", a.ToSigmaM, b.ToSigmaM)
	}
	sheet := before.Plan().Sheets[0].ID
	v, w := before.Verdict(sheet), after.Verdict(sheet)
	if v.Checked != w.Checked || len(v.Evidence) != len(w.Evidence) {
		t.Fatalf("%s, drawn × %v: the verdict was %+v, is %+v", name, times, v, w)
	}
	same("what the sheet is checked to", v.WithinM, w.WithinM)
	for i := range v.Evidence {
		same("what evidence may lie off", v.Evidence[i].MostM, w.Evidence[i].MostM)
		same("what evidence lies off", v.Evidence[i].OffM, w.Evidence[i].OffM)
	}
}

func legOf(t *testing.T, r *Reader, i int) Reading {
	t.Helper()
	l := r.Plan().Legs[i]
	out, err := r.Read(l.From.Position, l.To.Position)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
