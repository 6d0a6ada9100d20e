package ground

import "math"

// Lake is a sheet of still water.
type Lake struct {
	Level  float64 // metres
	Shore  []Line  // closed outlines, islands included
	Outlet Point   // where the water spills
	AreaM2 float64
	wet    map[int]bool
}

// Stream is a run of water between two junctions, upstream end first.
type Stream struct {
	Line   Line
	AreaM2 float64 // drained at its lower end
}

// lakes finds the hollows that hold enough water to be drawn.
func lakes(f *Field, w *flow) []Lake {
	const leastDepthM, leastCells = 0.6, 28
	owner := make([]bool, len(f.Z))
	var out []Lake
	for _, k := range w.order {
		if owner[k] || f.Z[k] <= 0 || w.filled[k]-f.Z[k] < leastDepthM {
			continue
		}
		level := w.filled[k]
		cells := spread(f, w, owner, k, level)
		if len(cells) >= leastCells {
			out = append(out, newLake(f, w, cells, level))
		}
	}
	return out
}

// spread collects the samples under one water level that hang together with k.
func spread(f *Field, w *flow, owner []bool, k int, level float64) []int {
	cells := []int{k}
	owner[k] = true
	for n := 0; n < len(cells); n++ {
		f.around(cells[n], func(m int) {
			if !owner[m] && w.filled[m] > f.Z[m]+1e-6 && math.Abs(w.filled[m]-level) < 0.01 {
				owner[m] = true
				cells = append(cells, m)
			}
		})
	}
	return cells
}

func newLake(f *Field, w *flow, cells []int, level float64) Lake {
	lake := Lake{Level: level, wet: make(map[int]bool, len(cells)), AreaM2: float64(len(cells)) * f.Cell * f.Cell}
	depth := NewField(f.W, f.H, f.Cell)
	for k := range depth.Z {
		depth.Z[k] = -5
	}
	exit, most := cells[0], 0.0
	for _, k := range cells {
		lake.wet[k] = true
		depth.Z[k] = level - f.Z[k]
		f.around(k, func(m int) {
			if depth.Z[m] == -5 {
				depth.Z[m] = math.Min(level-f.Z[m], -0.01)
			}
		})
		if w.area[k] > most {
			exit, most = k, w.area[k]
		}
	}
	lake.Shore = depth.Contours(0)
	lake.Outlet = f.Node(w.receiver[exit])
	return lake
}

// streams follows every channel that drains at least minM2 down to a junction, a lake or the sea.
func streams(f *Field, w *flow, still []Lake, minM2 float64) []Stream {
	wet := func(k int) bool {
		for i := range still {
			if still[i].wet[k] {
				return true
			}
		}
		return false
	}
	channel := func(k int) bool { return w.area[k] >= minM2 && f.Z[k] > 0 && !wet(k) }
	feeders := make([]int, len(f.Z))
	for k := range f.Z {
		if channel(k) && w.receiver[k] != k {
			feeders[w.receiver[k]]++
		}
	}
	var out []Stream
	for i := len(w.order) - 1; i >= 0; i-- {
		k := w.order[i]
		if !channel(k) || feeders[k] == 1 {
			continue
		}
		out = append(out, descend(f, w, channel, feeders, k))
	}
	return out
}

func descend(f *Field, w *flow, channel func(int) bool, feeders []int, k int) Stream {
	line := Line{f.Node(k)}
	area := w.area[k]
	for {
		m := w.receiver[k]
		if m == k {
			break
		}
		line = append(line, f.Node(m))
		if !channel(m) || feeders[m] > 1 {
			break
		}
		area = w.area[m]
		k = m
	}
	return Stream{Line: wander(f, line.Calm(9)).Round(1), AreaM2: area}
}

// wander lets a stream swing from side to side where the ground is nearly level; its ends stay.
func wander(f *Field, line Line) Line {
	out := append(Line(nil), line...)
	for i := 1; i < len(line)-1; i++ {
		a, p, b := line[i-1], line[i], line[i+1]
		d := a.Dist(b)
		ends := math.Min(smooth(0, 60, p.Dist(line[0])), smooth(0, 60, p.Dist(line[len(line)-1])))
		swing := ends * (13 - 8*smooth(2, 14, f.Slope(p))) * (Noise(p, 150, 2, 111) + 0.5*Noise(p, 60, 1, 112))
		if d > 0 {
			out[i] = Point{p.X - swing*1.6*(b.Y-a.Y)/d, p.Y + swing*1.6*(b.X-a.X)/d}
		}
	}
	return out.Calm(2)
}
