package escape_test

import (
	"fmt"
	"math"
	"testing"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// crowded is a plan with 30 escapes of five legs each, of which the third follows a path, among
// 40 hazards of twelve points.
func crowded() *plan.Plan {
	p := walk()
	cairn, _ := p.MarkByID("cairn")
	kinds := plan.HazardKinds()
	for i := range 40 {
		e, n := 300*float64(i%7)-900, 300*float64(i/7)-900
		var outline []plan.Position
		for k := range 12 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 12)
			outline = append(outline, at(e+60*sin, n+40*cos))
		}
		p = p.AddHazard(hazard(plan.ID(fmt.Sprint("hazard-", i)), kinds[i%len(kinds)], i%3 > 0, outline))
	}
	for i := range 30 {
		var legs []plan.EscapeLeg
		for k := range 5 {
			sin, cos := math.Sincos(float64(i + k))
			one := plan.EscapeLeg{To: plan.AtPosition(at(150*float64(k+1)*sin, 150*float64(k+1)*cos))}
			if k == 2 {
				one.Along = "path"
			}
			legs = append(legs, one)
		}
		p = p.AddEscape(plan.Escape{ID: plan.ID(fmt.Sprint("off-", i)), Start: plan.AtMark(cairn), Legs: legs})
	}
	return p
}

// BenchmarkOf judges the escapes of a crowded plan, whose reader has read its rows, and says that
// they wait to be judged.
func BenchmarkOf(b *testing.B) {
	p := crowded()
	if err := p.Validate(); err != nil {
		b.Fatal(err)
	}
	m, err := terrain.NewModel(tile(func(e, n float64) float64 { return 400 + 80*math.Sin(e/90) + 60*math.Cos(n/70) }))
	if err != nil {
		b.Fatal(err)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		b.Fatal(err)
	}
	for name, over := range map[string]*leg.Reader{"terrain": r.Over(m), "no terrain": r} {
		over.Legs()
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				escape.Of(over)
			}
		})
		b.Run(name+", waiting", func(b *testing.B) {
			for b.Loop() {
				escape.Waiting(over)
			}
		})
	}
}
