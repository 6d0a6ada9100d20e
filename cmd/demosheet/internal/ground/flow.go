package ground

import "math"

// flow is the way the water takes from every sample to the sea.
type flow struct {
	order    []int     // from the outlets upwards
	receiver []int     // next sample downstream; itself at an outlet
	reach    []float64 // metres to the receiver
	filled   []float64 // heights with every hollow filled to its spill point
	area     []float64 // m² drained, own cell included
}

// route floods the field from its outlets (samples at or below 0 and the rim)
// upwards in order of height (priority flood; Barnes, Lehman and Mulla 2014) and
// sends every sample to its steepest neighbour that drowned before it. Samples
// are thought to sit off their nodes by jitter cells so that valleys do not
// follow the eight directions of the lattice.
func route(f *Field, jitter float64) *flow {
	n := len(f.Z)
	w := &flow{
		order: make([]int, 0, n), receiver: make([]int, n), reach: make([]float64, n),
		filled: append([]float64(nil), f.Z...), area: make([]float64, n),
	}
	seen := make([]bool, n)
	done := make([]bool, n)
	q := &heap{}
	for k := range f.Z {
		i, j := k%f.W, k/f.W
		if f.Z[k] <= 0 || i == 0 || j == 0 || i == f.W-1 || j == f.H-1 {
			w.receiver[k], seen[k] = k, true
			q.push(f.Z[k], k)
		}
	}
	pos := jittered(f, jitter)
	for len(q.items) > 0 {
		k := q.pop()
		done[k] = true
		w.order = append(w.order, k)
		if w.receiver[k] != k {
			w.pick(f, pos, done, k)
		}
		f.around(k, func(m int) {
			if seen[m] {
				return
			}
			seen[m] = true
			w.receiver[m] = k
			w.filled[m] = math.Max(f.Z[m], w.filled[k]+1e-7)
			q.push(w.filled[m], m)
		})
	}
	w.drain(f.Cell * f.Cell)
	return w
}

func (w *flow) pick(f *Field, pos []Point, done []bool, k int) {
	best := math.Inf(-1)
	f.around(k, func(m int) {
		if !done[m] {
			return
		}
		d := pos[k].Dist(pos[m])
		if s := (w.filled[k] - w.filled[m]) / d; s > best {
			best, w.receiver[k], w.reach[k] = s, m, d
		}
	})
}

func (w *flow) drain(cellArea float64) {
	for k := range w.area {
		w.area[k] = cellArea
	}
	for i := len(w.order) - 1; i >= 0; i-- {
		if k := w.order[i]; w.receiver[k] != k {
			w.area[w.receiver[k]] += w.area[k]
		}
	}
}

func jittered(f *Field, jitter float64) []Point {
	pos := make([]Point, len(f.Z))
	for k := range pos {
		p := f.Node(k)
		i, j := int64(k%f.W), int64(k/f.W)
		p.X += jitter * f.Cell * (2*Unit(i, j, 61) - 1)
		p.Y += jitter * f.Cell * (2*Unit(i, j, 62) - 1)
		pos[k] = p
	}
	return pos
}

// around calls visit for the up to eight neighbours of sample k.
func (f *Field) around(k int, visit func(m int)) {
	i, j := k%f.W, k/f.W
	for dj := -1; dj <= 1; dj++ {
		for di := -1; di <= 1; di++ {
			if di == 0 && dj == 0 || i+di < 0 || j+dj < 0 || i+di >= f.W || j+dj >= f.H {
				continue
			}
			visit(k + dj*f.W + di)
		}
	}
}

// heap is a binary min-heap of samples by height; equal heights go by index, so the order is fixed.
type heap struct{ items []heapItem }

type heapItem struct {
	z float64
	k int
}

func (h *heap) less(a, b int) bool {
	return h.items[a].z < h.items[b].z || h.items[a].z == h.items[b].z && h.items[a].k < h.items[b].k
}

func (h *heap) push(z float64, k int) {
	h.items = append(h.items, heapItem{z, k})
	for i := len(h.items) - 1; i > 0; {
		up := (i - 1) / 2
		if !h.less(i, up) {
			break
		}
		h.items[i], h.items[up] = h.items[up], h.items[i]
		i = up
	}
}

func (h *heap) pop() int {
	top := h.items[0].k
	last := len(h.items) - 1
	h.items[0] = h.items[last]
	h.items = h.items[:last]
	for i := 0; ; {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && h.less(c+1, c) {
			c++
		}
		if !h.less(c, i) {
			break
		}
		h.items[i], h.items[c] = h.items[c], h.items[i]
		i = c
	}
	return top
}
