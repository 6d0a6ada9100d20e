package lattice

import (
	"cmp"
	"math"
	"slices"
)

const (
	// maxGap is how many strips a line may be hidden for.
	maxGap = 4
	// shortest is the number of segments that make a chain.
	shortest = 4
)

// chain is a run of segments that follow one another, and the straight line
// through them: x = x0 + slope·(y − middle of the plane).
type chain struct {
	x0, slope float64
	length    float64 // rows from the first to the last segment
}

type node struct {
	seg   segment
	score float64
	prev  int // index of the node before, or −1
	used  bool
}

// chains links the segments into chains, longest first, and drops the bent.
func (s strips) chains() []chain {
	nodes := s.link()
	order := make([]int, len(nodes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(nodes[b].score, nodes[a].score) })
	var out []chain
	for _, i := range order {
		var run []segment
		for k := i; k >= 0 && !nodes[k].used; k = nodes[k].prev {
			nodes[k].used = true
			run = append(run, nodes[k].seg)
		}
		if len(run) < shortest {
			continue
		}
		if c, ok := straighten(run, float64(s.p.h)/2, float64(s.high)); ok {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, func(a, b chain) int { return cmp.Compare(b.length, a.length) })
	return out
}

// link finds for each segment the best one above it.
func (s strips) link() []node {
	var nodes []node
	first := make([]int, len(s.segs)+1) // of each strip's nodes
	for j, segs := range s.segs {
		first[j] = len(nodes)
		for _, g := range segs {
			n := node{seg: g, score: g.strength, prev: -1}
			for gap := 1; gap <= maxGap && gap <= j; gap++ {
				s.follow(&n, nodes, first[j-gap], first[j-gap+1], gap)
			}
			nodes = append(nodes, n)
		}
	}
	return nodes
}

// follow tries the nodes from … to, a strip gap strips above n, as the one
// before it.
func (s strips) follow(n *node, nodes []node, from, to, gap int) {
	dy := float64(gap * s.high)
	tol := 2 + 0.5*float64(gap)
	turn := 4.5 / float64(s.high)
	lo := n.seg.x - dy*(n.seg.slope+turn) - tol
	i, _ := slices.BinarySearchFunc(nodes[from:to], lo, func(a node, x float64) int { return cmp.Compare(a.seg.x, x) })
	hi := n.seg.x - dy*(n.seg.slope-turn) + tol
	for k := from + i; k < to && nodes[k].seg.x <= hi; k++ {
		b := &nodes[k]
		off := n.seg.x - b.seg.x - dy*(n.seg.slope+b.seg.slope)/2
		if math.Abs(off) > tol || math.Abs(n.seg.slope-b.seg.slope) > turn {
			continue
		}
		score := n.seg.strength + b.score - float64(gap-1)*0.4*n.seg.strength
		if score > n.score {
			n.score, n.prev = score, k
		}
	}
}

// straighten fits a straight line to a run, and refuses one that bends by more
// than paper does.
func straighten(run []segment, middle, high float64) (chain, bool) {
	var l lineFit
	for _, g := range run {
		l.add(g.y-middle, g.x, 1)
	}
	x0, slope := l.solve()
	length := math.Abs(run[0].y-run[len(run)-1].y) + high
	var sum float64
	for _, g := range run {
		d := g.x - x0 - slope*(g.y-middle)
		sum += d * d
	}
	if math.Sqrt(sum/float64(len(run))) > 1.5+0.003*length {
		return chain{}, false
	}
	return chain{x0, slope, length}, true
}

// lineFit is a weighted least-squares line x = a + b·t.
type lineFit struct{ n, t, tt, x, tx float64 }

func (l *lineFit) add(t, x, w float64) {
	l.n += w
	l.t += w * t
	l.tt += w * t * t
	l.x += w * x
	l.tx += w * t * x
}

func (l *lineFit) solve() (a, b float64) {
	det := l.n*l.tt - l.t*l.t
	if l.n == 0 {
		return 0, 0
	}
	if det < 1e-9*(l.n*l.tt+1) {
		return l.x / l.n, 0
	}
	b = (l.n*l.tx - l.t*l.x) / det
	return (l.x - b*l.t) / l.n, b
}
