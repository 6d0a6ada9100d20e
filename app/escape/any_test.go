package escape_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/caution"
	"legwright/app/plan"
)

// Whatever is drawn, on terrain with voids and without any, what must stand with an escape
// stands there, no figure is impossible, and nothing is passed over in silence.
func TestWhateverIsDrawn(t *testing.T) {
	t.Parallel()
	holed := tile(func(e, n float64) float64 {
		if math.Hypot(e-100, n+300) < 60 {
			return math.NaN()
		}
		return 400 + 80*math.Sin(e/90) + 60*math.Cos(n/70)
	})
	rapid.Check(t, func(rt *rapid.T) {
		m := rapid.SampledFrom([]float64{-400, -200, -100, 0, 0, 50, 100, 300, 900, 1500})
		end := func(name string) plan.End { return plan.AtPosition(at(m.Draw(rt, name+" e"), m.Draw(rt, name+" n"))) }
		line := func(name string, n int) (out []plan.Position) {
			for range n {
				out = append(out, end(name).Position)
			}
			return out
		}
		p := walk().SetLine(plan.Line{ID: "path", Kind: plan.WallLine, Points: line("path", rapid.IntRange(2, 4).Draw(rt, "path points"))})
		for i := range rapid.IntRange(0, 3).Draw(rt, "hazards") {
			kind := rapid.SampledFrom(plan.HazardKinds()).Draw(rt, "kind")
			h := hazard(plan.ID(rune('a'+i)), kind, rapid.Bool().Draw(rt, "closed"), line("hazard", rapid.IntRange(3, 5).Draw(rt, "points")))
			if kind == plan.Water {
				h.Crosses = rapid.SampledFrom(plan.Crossings()).Draw(rt, "crossing")
			}
			p = p.AddHazard(h)
		}
		p = edit(p, func(e *plan.Escape) {
			e.Legs = nil
			for range rapid.IntRange(1, 4).Draw(rt, "legs") {
				e.Legs = append(e.Legs, plan.EscapeLeg{To: end("leg"), Along: rapid.SampledFrom([]plan.ID{"", "path", "gone"}).Draw(rt, "along")})
			}
		})
		tiles := rapid.SampledFrom([]bool{true, false}).Draw(rt, "terrain")
		e := only(t, p)
		if tiles {
			e = only(t, p, holed)
		}
		for _, c := range []caution.Code{caution.DriftNotJudged, caution.SnowNotJudged, caution.EscapeDraft} {
			if !caution.Has(e.Cautions, c) {
				rt.Fatalf("%s does not stand with it", c)
			}
		}
		if caution.Has(e.Cautions, caution.BlindTerrain) != tiles {
			rt.Fatalf("terrain %v: %v", tiles, e.Cautions)
		}
		if !(math.IsNaN(e.Minutes) || e.Minutes >= 0 && e.DarkMinutes >= e.Minutes) || e.AgainM < 0 || e.LongestM > e.OffLineM+1e-9 {
			rt.Fatalf("%v min, in the dark %v, %v m again, longest %v of %v m", e.Minutes, e.DarkMinutes, e.AgainM, e.LongestM, e.OffLineM)
		}
		for _, l := range e.Legs {
			switch {
			case l.Err != nil:
				if !caution.Has(e.Cautions, caution.EscapeUnread) || !math.IsNaN(e.Minutes) {
					rt.Fatalf("leg %d cannot be read, and the escape does not stop: %v", l.N, l.Err)
				}
				continue
			case l.Danger() == caution.Has(l.Cautions, caution.NothingDrawn):
				rt.Fatalf("leg %d: near %v, %v", l.N, l.Near, l.Cautions)
			case l.Climb.Known() != l.Profile.Whole() || !l.Climb.Known() && !caution.Has(l.Cautions, caution.NoTerrain):
				rt.Fatalf("leg %d: climb %+v, %v", l.N, l.Climb, l.Cautions)
			}
			for _, n := range l.Near {
				if !(n.DistM >= 0) || n.AlongM < -1e-6 || n.AlongM > l.LengthM+1e-6 {
					rt.Fatalf("leg %d of %v m: %+v", l.N, l.LengthM, n)
				}
			}
		}
	})
}
