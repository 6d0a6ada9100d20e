package teach_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/calib"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

// situation is one bearing with all that may be meant.
type situation struct {
	name               string
	r                  *leg.Reader
	from               plan.Position
	bearing, tolerance float64 // degrees
}

func situations(t *testing.T) []situation {
	s := sheet()
	on := marked(plan.New(today()).SetSheet(s), picked(t, s, 1100, 700, 0.5), picked(t, s, 1130, 690, 0.5), picked(t, s, 1002, 1030, 3), picked(t, s, 400, 1200, 0.5))
	of := func(at ...plan.Position) *leg.Reader { return reader(t, marked(plan.New(today()), at...)) }
	far := of(at(300, 520, 10), at(450, 400, 10), at(900, 600, 10), at(-500, -900, 10))
	near := of(at(20, 30, 20), at(35, 5, 25), at(-15, 10, 15), at(900, 600, 10))
	loose := of(at(1500, 1200, 900), at(-800, 2000, 1500), at(4000, 3000, 300), at(0, -3000, 5000))
	north := of(at(-40, 800, 10), at(30, 700, 10), at(120, 900, 10), at(0, -500, 10))
	sharp := of(at(600, 400, 0), at(601, 400, 0), at(600, 400, 80), at(-600, 400, 0))
	here := at(0, 0, 10)
	return []situation{
		{"far marks", far, here, 40, 5},
		{"a careful compass", far, here, 47, 1},
		{"marks near the position", near, here, 60, 5},
		{"near marks, coarse compass", near, here, 300, 30},
		{"near marks, fine compass", near, here, 60, 3},
		{"large position errors", loose, here, 50, 5},
		{"large errors at the position", loose, at(0, 0, 2000), 350, 8},
		{"wedge across north", north, here, 359, 5},
		{"wedge across north, from its other side", north, here, 2, 8},
		{"tolerance 90", far, here, 40, 90},
		{"tolerance 90 across north", north, here, 350, 90},
		{"exact positions", sharp, at(0, 0, 0), 56, 0.5},
		{"exact positions, wide", sharp, at(0, 0, 0), 58, 5},
		{"picked on one sheet", reader(t, on), picked(t, s, 1000, 1000, 0.5), 18, 2},
	}
}

// drawn is a situation's likelihoods by 100,000 seeded draws of where both positions
// truly lie, from their joint covariance.
func (s situation) drawn(t *testing.T, seed uint64) []float64 {
	const draws = 100_000
	rnd := rand.New(rand.NewPCG(seed, 15))
	var out []float64
	for _, m := range s.r.Plan().Marks {
		cov, err := s.r.Joint(s.from, m.Position)
		if err != nil {
			t.Fatal(err)
		}
		root := cholesky(cov)
		sum := 0.0
		for range draws {
			e, n := m.Position.Grid.E-s.from.Grid.E, m.Position.Grid.N-s.from.Grid.N
			var z, d [4]float64
			for i := range z {
				z[i] = rnd.NormFloat64()
			}
			for i := range d {
				for k := 0; k <= i; k++ {
					d[i] += root[i][k] * z[k]
				}
			}
			sum += kernel(deg(s.bearing)-units.Angle(math.Atan2(e+d[2]-d[0], n+d[3]-d[1])), deg(s.tolerance/2))
		}
		out = append(out, sum/draws)
	}
	return out
}

// summed is a situation's likelihoods by brute force: the sum over a square of steps
// between both positions, out to seven σ.
func (s situation) summed(t *testing.T) []float64 {
	const cells, reach = 400, 7.0
	var out []float64
	for _, m := range s.r.Plan().Marks {
		c, err := s.r.Joint(s.from, m.Position)
		if err != nil {
			t.Fatal(err)
		}
		ee, en, nn := c[0][0]+c[2][2]-2*c[0][2]+1e-6, c[0][1]+c[2][3]-c[0][3]-c[1][2], c[1][1]+c[3][3]-2*c[1][3]+1e-6
		det := ee*nn - en*en
		sum, weight := 0.0, 0.0
		for i := range cells {
			x := reach * math.Sqrt(ee) * (2*(float64(i)+0.5)/cells - 1)
			for k := range cells {
				y := reach * math.Sqrt(nn) * (2*(float64(k)+0.5)/cells - 1)
				w := math.Exp(-(nn*x*x - 2*en*x*y + ee*y*y) / det / 2)
				if w < 1e-12 {
					continue
				}
				angle := math.Atan2(m.Position.Grid.E-s.from.Grid.E+x, m.Position.Grid.N-s.from.Grid.N+y)
				sum += w * kernel(deg(s.bearing)-units.Angle(angle), deg(s.tolerance/2))
				weight += w
			}
		}
		out = append(out, sum/weight)
	}
	return out
}

// kernel is the density of a compass's error round the circle.
func kernel(off, sigma units.Angle) float64 {
	sum := 0.0
	for turn := -4; turn <= 4; turn++ {
		x := (off.Signed().Rad() + 2*math.Pi*float64(turn)) / sigma.Rad()
		if math.Abs(x) < 10 {
			sum += math.Exp(-x * x / 2)
		}
	}
	return sum / sigma.Rad() / math.Sqrt(2*math.Pi)
}

func cholesky(c calib.Cov4) (l [4][4]float64) {
	for i := range 4 {
		for k := 0; k <= i; k++ {
			sum := c[i][k]
			for j := range k {
				sum -= l[i][j] * l[k][j]
			}
			if i == k {
				l[i][i] = math.Sqrt(math.Max(sum, 1e-12))
			} else {
				l[i][k] = sum / l[k][k]
			}
		}
	}
	return l
}

// TestChances compares every chance with brute force and with 100,000 seeded draws, to
// one percentage point, and the ranking with that of the brute force.
func TestChances(t *testing.T) {
	t.Parallel()
	for i, s := range situations(t) {
		t.Run(s.name, func(t *testing.T) {
			t.Parallel()
			got, err := teach.Identify(s.r, s.from, teach.Bearing{Angle: deg(s.bearing), North: units.GridNorth}, deg(s.tolerance), nil)
			if err != nil {
				t.Fatal(err)
			}
			chances := map[string]float64{}
			for _, c := range got.Candidates {
				chances[c.Name] = c.Chance
			}
			for way, likely := range map[string][]float64{"brute force": s.summed(t), "draws": s.drawn(t, uint64(i))} {
				sum := 1 / (2 * math.Pi)
				for _, l := range likely {
					sum += l
				}
				if off := math.Abs(got.None - 1/(2*math.Pi)/sum); off > 0.01 {
					t.Errorf("none of them, %s: %.4f out", way, off)
				}
				for k, m := range s.r.Plan().Marks {
					if off := math.Abs(chances[m.Name] - likely[k]/sum); !(off <= 0.01) {
						t.Errorf("%s, %s: got %.4f, want %.4f", m.Name, way, chances[m.Name], likely[k]/sum)
					}
				}
				for k := 1; k < len(got.Candidates); k++ {
					a, b := likely[got.Candidates[k-1].Name[0]-'A'], likely[got.Candidates[k].Name[0]-'A']
					if a < b-0.01*sum {
						t.Errorf("%s: %s ranks before %s", way, got.Candidates[k-1].Name, got.Candidates[k].Name)
					}
				}
			}
		})
	}
}

// TestChancesComeTrue draws 100,000 times what is meant, a mark or none of them, where
// everything truly lies and what the compass says. In each quarter of the circle every
// feature is meant as often as its chances say, to one percentage point.
func TestChancesComeTrue(t *testing.T) {
	t.Parallel()
	const draws, tenths = 100_000, 3600
	p := marked(plan.New(today()), at(300, 520, 10), at(30, 40, 20), at(-400, -900, 150), at(900, -30, 10))
	from, sigma := at(0, 0, 15), deg(4)
	l, err := teach.NewLookout(reader(t, p), from)
	if err != nil {
		t.Fatal(err)
	}
	var table [tenths][5]float64
	for i := range table {
		a, err := l.Identify(teach.Bearing{Angle: deg((float64(i) + 0.5) / 10), North: units.GridNorth}, 2*sigma, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range a.Candidates {
			table[i][c.Name[0]-'A'] = c.Chance
		}
		table[i][4] = a.None
	}
	rnd := rand.New(rand.NewPCG(15, 2))
	var meant, said [4][5]float64
	var n [4]float64
	for range draws {
		which, angle := rnd.IntN(5), units.Angle(rnd.Float64()*2*math.Pi)
		if which < 4 {
			to := p.Marks[which].Position
			e := to.Grid.E - from.Grid.E + math.Hypot(from.SigmaM, to.SigmaM)*rnd.NormFloat64()
			nn := to.Grid.N - from.Grid.N + math.Hypot(from.SigmaM, to.SigmaM)*rnd.NormFloat64()
			angle = units.Angle(math.Atan2(e, nn)) + sigma*units.Angle(rnd.NormFloat64())
		}
		i := int(angle.Turn().Deg() * 10)
		q := i / 900
		n[q]++
		meant[q][which]++
		for k, chance := range table[i] {
			said[q][k] += chance
		}
	}
	for q := range n {
		for k := range 5 {
			if off := (said[q][k] - meant[q][k]) / n[q]; math.Abs(off) > 0.01 {
				t.Errorf("quarter %d, feature %d: the chances are %.2f percentage points out over %.0f draws", q, k, 100*off, n[q])
			}
		}
	}
}

// BenchmarkIdentify judges 200 marks for one turn of the dial.
func BenchmarkIdentify(b *testing.B) {
	p := plan.New(today())
	for i := range 200 {
		p = p.AddMark(plan.Mark{ID: plan.ID(fmt.Sprint("mark-", i)), Name: fmt.Sprint(i), Position: at(float64(i*37%5000-2500), float64(i*91%5000-2500), 10)})
	}
	l, err := teach.NewLookout(reader(b, p), at(0, 0, 10))
	if err != nil {
		b.Fatal(err)
	}
	for i := range b.N {
		if _, err := l.Identify(teach.Bearing{Angle: deg(float64(i % 360)), North: units.MagneticNorth}, deg(5), nil); err != nil {
			b.Fatal(err)
		}
	}
}
