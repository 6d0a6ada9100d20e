package geodesy

import "math"

// ntv2Grid is one grid of shifts. Longitudes count westwards, as in the file;
// rows run from the south, columns from the east.
type ntv2Grid struct {
	name, parentName         string
	south, north, east, west float64 // radians, longitudes west positive
	latInc, lonInc           float64
	rows, cols               int
	nodes                    []byte // 16 bytes a node, as in the file
	d                        ntv2Decoder
	children                 []*ntv2Grid
}

// ntv2Shift is what a grid says at a place: what to add to latitude and to
// westward longitude in radians, and the accuracies in metres, not above 0
// where the file does not know them.
type ntv2Shift struct{ latRad, westRad, latM, lonM float64 }

func (d *ntv2Decoder) grid() (*ntv2Grid, error) {
	head, err := d.records(11)
	if err != nil {
		return nil, err
	}
	if !head[0].is("SUB_NAME") {
		return nil, badNTv2("it does not begin with SUB_NAME")
	}
	g := &ntv2Grid{name: head[0].text(), parentName: head[1].text()}
	for i, to := range []*float64{&g.south, &g.north, &g.east, &g.west, &g.latInc, &g.lonInc} {
		*to = d.number(head[4+i]) * d.unit
	}
	if err := g.size(); err != nil {
		return nil, err
	}
	count := d.whole(head[10])
	if count != g.rows*g.cols {
		return nil, badNTv2("it counts %d nodes for %d rows of %d", count, g.rows, g.cols)
	}
	if len(d.data) < count*ntv2RecordBytes {
		return nil, badNTv2("it ends within its nodes")
	}
	g.nodes, d.data = d.data[:count*ntv2RecordBytes], d.data[count*ntv2RecordBytes:]
	g.d = ntv2Decoder{order: d.order, unit: d.unit}
	return g, g.checkNodes()
}

// size works out rows and columns from the borders.
func (g *ntv2Grid) size() error {
	for _, v := range []float64{g.south, g.north, g.east, g.west} {
		if !(math.Abs(v) <= 2*math.Pi) {
			return badNTv2("its borders are no angles")
		}
	}
	if !(g.latInc > 1e-9 && g.lonInc > 1e-9 && g.latInc < 1 && g.lonInc < 1) || g.north < g.south || g.west < g.east {
		return badNTv2("its borders or steps are turned round")
	}
	rows, cols := (g.north-g.south)/g.latInc, (g.west-g.east)/g.lonInc
	g.rows, g.cols = int(math.Round(rows))+1, int(math.Round(cols))+1
	if g.rows < 2 || g.cols < 2 || g.rows > 1<<20 || g.cols > 1<<20 ||
		math.Abs(rows-math.Round(rows)) > 1e-2 || math.Abs(cols-math.Round(cols)) > 1e-2 {
		return badNTv2("its borders are no whole number of steps apart")
	}
	return nil
}

// checkNodes refuses shifts that are no numbers or that no datum has.
func (g *ntv2Grid) checkNodes() error {
	for i := range g.rows * g.cols {
		s := g.node(i)
		if !(math.Abs(s.latRad) <= maxNTv2ShiftRad && math.Abs(s.westRad) <= maxNTv2ShiftRad) {
			return badNTv2("its node %d is shifted by more than a degree or is no number", i+1)
		}
	}
	return nil
}

func (g *ntv2Grid) node(i int) ntv2Shift {
	b := g.nodes[i*ntv2RecordBytes:]
	value := func(k int) float64 { return float64(math.Float32frombits(g.d.order.Uint32(b[4*k:]))) }
	return ntv2Shift{value(0) * g.d.unit, value(1) * g.d.unit, value(2), value(3)}
}

// ntv2EdgeRad is how far over its border a grid still serves: the rounding of
// a place that lies on it.
const ntv2EdgeRad = 1e-11

func (g *ntv2Grid) contains(latRad, westRad float64) bool {
	return latRad >= g.south-ntv2EdgeRad && latRad <= g.north+ntv2EdgeRad &&
		westRad >= g.east-ntv2EdgeRad && westRad <= g.west+ntv2EdgeRad
}

// at interpolates between the four nodes around a place inside the grid, in
// both directions in proportion (Developer's Guide, section 4).
func (g *ntv2Grid) at(latRad, westRad float64) ntv2Shift {
	y, row := split((latRad-g.south)/g.latInc, g.rows)
	x, col := split((westRad-g.east)/g.lonInc, g.cols)
	i := row*g.cols + col
	corners := [4]ntv2Shift{g.node(i), g.node(i + 1), g.node(i + g.cols), g.node(i + g.cols + 1)}
	weights := [4]float64{(1 - x) * (1 - y), x * (1 - y), (1 - x) * y, x * y}
	var sum ntv2Shift
	for k, c := range corners {
		w := weights[k]
		sum.latRad += w * c.latRad
		sum.westRad += w * c.westRad
		sum.latM += w * c.latM
		sum.lonM += w * c.lonM
	}
	return sum
}

// split parts a count of steps into the index of a cell and the share of it.
func split(steps float64, nodes int) (share float64, cell int) {
	cell = min(max(int(math.Floor(steps)), 0), nodes-2)
	return math.Min(math.Max(steps-float64(cell), 0), 1), cell
}

// find returns the densest grid around a place, or nil.
func (n *NTv2) find(latRad, westRad float64) *ntv2Grid {
	var found *ntv2Grid
	list := n.roots
	for depth := 0; depth <= len(n.grids); depth++ {
		var next *ntv2Grid
		for _, g := range list {
			if g.contains(latRad, westRad) {
				next = g
				break
			}
		}
		if next == nil {
			break
		}
		found, list = next, next.children
	}
	return found
}

// shiftAt returns the shift at a place of the datum the file leads from, and
// false outside the grids.
func (n *NTv2) shiftAt(ll LatLon) (ntv2Shift, bool) {
	lat, west := float64(ll.Lat), -wrapLon(float64(ll.Lon))
	for _, turn := range [...]float64{0, 2 * math.Pi, -2 * math.Pi} {
		if g := n.find(lat, west+turn); g != nil {
			return g.at(lat, west+turn), true
		}
	}
	return ntv2Shift{}, false
}

// Forward leads a place from the file's first datum to its second. It reports
// false outside the grids.
func (n *NTv2) Forward(ll LatLon) (LatLon, bool) {
	s, ok := n.shiftAt(ll)
	if !ok {
		return ll, false
	}
	return latLonRad(float64(ll.Lat)+s.latRad, wrapLon(float64(ll.Lon)-s.westRad)), true
}

// Backward undoes Forward to 1e-13 rad, by repeating it until it closes. It
// reports false outside the grids, and where it does not close: at a border
// between two grids there may be no place that leads here.
func (n *NTv2) Backward(ll LatLon) (LatLon, bool) {
	at := ll
	for range 20 {
		s, ok := n.shiftAt(at)
		if !ok {
			return ll, false
		}
		next := latLonRad(float64(ll.Lat)-s.latRad, wrapLon(float64(ll.Lon)+s.westRad))
		step := math.Hypot(float64(next.Lat-at.Lat), wrapLon(float64(next.Lon-at.Lon)))
		at = next
		if step < 1e-13 {
			_, ok := n.shiftAt(at)
			return at, ok
		}
	}
	return ll, false
}
