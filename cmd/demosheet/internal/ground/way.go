package ground

import "math"

// Way finds the line that a walker would tread from one point to the next: the
// cheapest chain of samples by A*, where steep steps, crags and water cost. The
// points given are kept, the rest is smoothed.
func (g *Ground) Way(steepCost float64, via ...Point) Line {
	line := Line{via[0]}
	for i := 1; i < len(via); i++ {
		leg := g.tread(via[i-1], via[i], steepCost)
		line = append(line, leg[1:]...)
	}
	return line
}

func (g *Ground) tread(from, to Point, steepCost float64) Line {
	f := g.Height
	start, goal := f.Nearest(from), f.Nearest(to)
	cost := map[int]float64{start: 0}
	came := map[int]int{}
	closed := map[int]bool{}
	q := &heap{}
	q.push(0, start)
	for len(q.items) > 0 {
		k := q.pop()
		if k == goal {
			break
		}
		if closed[k] {
			continue
		}
		closed[k] = true
		g.ringAround(k, func(m int) {
			c := cost[k] + g.step(k, m, steepCost)
			if old, ok := cost[m]; ok && old <= c {
				return
			}
			cost[m], came[m] = c, k
			q.push(c+f.Node(m).Dist(f.Node(goal)), m)
		})
	}
	line := Line{to}
	for k := came[goal]; k != start && k != 0; k = came[k] {
		line = append(line, f.Node(k))
	}
	line = append(line, from)
	for i, j := 0, len(line)-1; i < j; i, j = i+1, j-1 {
		line[i], line[j] = line[j], line[i]
	}
	return line.Calm(4).Round(1).Calm(2)
}

// ringAround visits the sixteen samples a chess king's or a knight's move away.
func (g *Ground) ringAround(k int, visit func(m int)) {
	f := g.Height
	i, j := k%f.W, k/f.W
	for dj := -2; dj <= 2; dj++ {
		for di := -2; di <= 2; di++ {
			if s := di*di + dj*dj; s == 0 || s == 4 || s == 8 || i+di < 0 || j+dj < 0 || i+di >= f.W || j+dj >= f.H {
				continue
			}
			visit(k + dj*f.W + di)
		}
	}
}

// step prices the move from sample k to sample m in metres of level walking.
func (g *Ground) step(k, m int, steepCost float64) float64 {
	f := g.Height
	d := f.Node(k).Dist(f.Node(m))
	grade := math.Abs(f.Z[m]-f.Z[k]) / d
	gx, gy := f.Grad(f.Node(m))
	side := math.Hypot(gx, gy)
	c := d * (1 + steepCost*grade*grade + 1.2*side*side)
	if g.Crag.Z[m] > 0 {
		c += 40 * d
	}
	if f.Z[m] <= 0.5 || g.Wet(f.Node(m)) {
		c += 60 * d
	}
	return c
}
