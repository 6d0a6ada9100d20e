package terrain

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
)

// DeadBandM is the rise or fall in metres that Climb does not count, unless it leads to
// the highest or lowest point of the line. Heights of posts are noise to a metre or two,
// and every bump of it would count as climb [common practice, no source].
const DeadBandM = 5

// Steps between the points of a profile, in metres on the ground: a third of the
// spacing of posts within these bounds.
const (
	leastStepM = 2
	mostStepM  = 30
)

// Point is one point of a profile.
type Point struct {
	AlongM  float64     // metres on the ground from the start
	HeightM float64     // NaN where there is no terrain
	Steep   units.Angle // of the ground in whichever direction it falls, by Underfoot alone; NaN where it is not known
}

// Profile is the ground along a straight line on the grid, from its first to its last
// point. The zero Profile is that of no terrain.
type Profile struct{ Points []Point }

// Profile returns the ground from one position to another at even steps of at most stepM
// metres, the model's own step for 0. Without a model, and for a line that
// cannot be computed, it is the zero Profile; a line of no length has one point.
func (g Ground) Profile(from, to geodesy.Grid, stepM float64) Profile {
	return g.along(from, to, stepM, false)
}

// Underfoot is Profile at the model's own step, with how steep the ground is at each point.
func (g Ground) Underfoot(from, to geodesy.Grid) Profile { return g.along(from, to, 0, true) }

func (g Ground) along(from, to geodesy.Grid, stepM float64, steep bool) Profile {
	if g.m == nil {
		return Profile{}
	}
	lengthM, err := geodesy.GroundDistance(g.sys, from, to)
	if err != nil {
		return Profile{}
	}
	if stepM <= 0 {
		stepM = g.step()
	}
	const most = 200_000 // points
	n := int(min(math.Ceil(lengthM/stepM), most))
	p := Profile{Points: make([]Point, n+1)}
	for i := range p.Points {
		share := float64(i) / float64(max(n, 1))
		f, h, ok := g.find(between(from, to, share))
		q := Point{lengthM * share, h, units.Angle(math.NaN())}
		if !ok {
			q.HeightM = math.NaN()
		} else if steep {
			q.Steep = f.steep()
		}
		p.Points[i] = q
	}
	return p
}

// step is the step of profiles: by the closest posts.
func (g Ground) step() float64 {
	return min(max(g.m.lattices[0].spacingM/3, leastStepM), mostStepM)
}

// between is the position at a share of the straight line.
func between(a, b geodesy.Grid, share float64) geodesy.Grid {
	return geodesy.Grid{E: a.E + share*(b.E-a.E), N: a.N + share*(b.N-a.N)}
}

// Whole reports whether there is terrain under all of the line.
func (p Profile) Whole() bool { return len(p.Points) > 0 && p.Voids() == 0 }

// Voids is how many points have no terrain.
func (p Profile) Voids() int {
	n := 0
	for _, q := range p.Points {
		if math.IsNaN(q.HeightM) {
			n++
		}
	}
	return n
}

// LengthM is the length of the line on the ground in metres.
func (p Profile) LengthM() float64 {
	if len(p.Points) == 0 {
		return 0
	}
	return p.Points[len(p.Points)-1].AlongM
}

// Extremes are the indices of the lowest and the highest point, the first of
// equals; ok is false where no point has a height.
func (p Profile) Extremes() (low, high int, ok bool) {
	low, high = -1, -1
	for i, q := range p.Points {
		if math.IsNaN(q.HeightM) {
			continue
		}
		if low < 0 || q.HeightM < p.Points[low].HeightM {
			low = i
		}
		if high < 0 || q.HeightM > p.Points[high].HeightM {
			high = i
		}
	}
	return low, high, low >= 0
}

// Climb returns the metres climbed and descended along the line. Rises and falls of
// less than DeadBandM are not counted; the way from the start over the lowest and the
// highest point to the end always is, so up − down is the difference of the ends. ok is
// false unless the profile is whole.
func (p Profile) Climb() (upM, downM float64, ok bool) {
	if !p.Whole() {
		return 0, 0, false
	}
	low, high, _ := p.Extremes()
	at := 0
	for _, stop := range [...]int{min(low, high), max(low, high), len(p.Points) - 1} {
		up, down := climb(p.Points[at : stop+1])
		upM, downM, at = upM+up, downM+down, stop
	}
	return upM, downM, true
}

// climb counts the rises and falls between turning points that stand out by DeadBandM;
// both ends of the stretch are turning points.
func climb(points []Point) (up, down float64) {
	last := points[0].HeightM // the turning point counted to
	turn := last              // the furthest height since, up or down
	add := func(h float64) {
		up, down = up+max(h-last, 0), down+max(last-h, 0)
		last = h
	}
	for _, q := range points {
		h := q.HeightM
		switch {
		case turn == last && math.Abs(h-last) >= DeadBandM, turn > last && h > turn, turn < last && h < turn:
			turn = h
		case turn != last && math.Abs(h-turn) >= DeadBandM:
			add(turn)
			turn = h
		}
	}
	add(points[len(points)-1].HeightM)
	return up, down
}

// OverSteep returns where along the line the ground is first as steep as a slope, in metres from the
// start, and how steep it is at most; firstM is negative where it is so nowhere that is known. whole
// is false unless the steepness of all of the line is known.
func (p Profile) OverSteep(from units.Angle) (firstM float64, most units.Angle, whole bool) {
	firstM, whole = -1, len(p.Points) > 0
	for _, q := range p.Points {
		whole = whole && q.Steep == q.Steep
		if q.Steep < from || q.Steep != q.Steep {
			continue
		}
		if firstM < 0 {
			firstM = q.AlongM
		}
		most = max(most, q.Steep)
	}
	return firstM, most, whole
}

// steepPartM is how long a part of a line is at least whose slope is taken, metres on the ground:
// over less the noise of posts looks steep.
const steepPartM = 30

// Down returns how much of a whole profile falls at more than a slope and at most at another,
// and by how much, both in metres; 0 where some of it is not known.
func (p Profile) Down(above, most units.Angle) (lengthM, dropM float64) {
	if !p.Whole() {
		return 0, 0
	}
	from, least, greatest := p.Points[0], math.Tan(above.Rad()), math.Tan(most.Rad())
	for i, q := range p.Points[1:] {
		if q.AlongM-from.AlongM < steepPartM && i+2 < len(p.Points) {
			continue
		}
		if long, drop := q.AlongM-from.AlongM, from.HeightM-q.HeightM; drop > long*least && drop <= long*greatest {
			lengthM, dropM = lengthM+long, dropM+drop
		}
		from = q
	}
	return lengthM, dropM
}

// Joined is the profile of ways that lead on from each other; the zero Profile where one of them
// has none.
func Joined(list ...Profile) (out Profile) {
	for _, p := range list {
		if len(p.Points) == 0 {
			return Profile{}
		}
		behindM := out.LengthM()
		if n := len(out.Points); n > 0 { // where one ends the next begins
			out.Points = out.Points[:n-1]
		}
		for _, q := range p.Points {
			q.AlongM += behindM
			out.Points = append(out.Points, q)
		}
	}
	return out
}

// Reversed is the profile of the same line from its end to its start.
func (p Profile) Reversed() Profile {
	n := len(p.Points)
	out := Profile{Points: make([]Point, n)}
	for i, q := range p.Points {
		q.AlongM = p.LengthM() - q.AlongM
		out.Points[n-1-i] = q
	}
	return out
}
