package sheet

import (
	"math"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
)

// en turns grid coordinates in metres into ground points, pair by pair.
func en(pairs ...float64) ground.Line {
	var out ground.Line
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, at(pairs[i], pairs[i+1]))
	}
	return out
}

// mark returns where the first mark on a feature stands.
func mark(f demo.Feature) ground.Point {
	for _, m := range demo.Marks() {
		if m.Feature == f {
			return at(m.E, m.N)
		}
	}
	panic("sheet: the demo has no mark on a " + string(f))
}

// route is a way to be laid over the ground through fixed points.
type route struct {
	road      bool
	steepCost float64
	via       ground.Line
}

func wayPoints() []route {
	quay, fork, hut, out := mark(demo.Quay), mark(demo.Junction), mark(demo.Hut), mark(demo.Outflow)
	return []route{
		{true, 60, append(ground.Line{quay, fork}, en(28420, 743260, 29330, 743110)...)},
		{false, 25, append(append(ground.Line{fork}, en(27820, 743700, 27800, 744350, 27290, 745020)...), hut)},
		{false, 25, ground.Line{hut, out}},
		{false, 25, append(ground.Line{hut}, en(26400, 745960)...)},
		{false, 25, append(ground.Line{quay}, en(27040, 743165, 26420, 743230, 25600, 742300, 24700, 743500, 23810, 743900)...)},
		{false, 25, en(29330, 743110, 29750, 742700, 29980, 742250)},
		{false, 25, append(ground.Line{out}, en(24600, 745700, 24150, 745900, 23930, 746180)...)},
	}
}

// woods lists the outlines of the woods; the demo's mark is the north-west corner of the first.
func woods() []ground.Line {
	c := mark(demo.WoodCorner)
	wood := append(ground.Line{c}, en(28330, 743900, 28280, 743490, 27910, 743530)...)
	return []ground.Line{append(wood, c)}
}

func wallLines() []ground.Line {
	return append(woods(),
		en(27910, 743530, 27860, 743360),
		en(28280, 743490, 28260, 743310),
		en(28075, 743515, 28060, 743330),
		en(27330, 743170, 27300, 743420, 27480, 743560, 27790, 743560),
		en(27560, 743270, 27480, 743560),
		en(28000, 743280, 28010, 743110),
		en(28230, 743270, 28240, 743060),
		en(23700, 743830, 23680, 744020, 23900, 744090, 24050, 743990, 24010, 743830),
		en(32250, 744900, 32330, 745090, 32560, 745070, 32610, 744860),
	)
}

// buildings lists the houses: a few by the road at Skelvig, one by the light, ruins in the west.
func buildings() []building {
	b := func(e, n, length, width, turnDeg float64) building {
		return building{at(e, n), length, width, turnDeg * math.Pi / 180}
	}
	return []building{
		b(27560, 743212, 30, 15, 35), b(27632, 743262, 24, 14, 35), b(27700, 743360, 26, 14, 20),
		b(27835, 743300, 28, 15, 0), b(27925, 743375, 22, 14, 3), b(28120, 743262, 26, 14, -4),
		b(28165, 743350, 20, 13, 5), b(27505, 743260, 16, 12, 60), b(29345, 743145, 22, 14, -20),
		b(23800, 743930, 20, 13, 10), b(23850, 743960, 16, 12, 80), b(32470, 744960, 22, 14, 15),
	}
}

func quays() []ground.Line {
	q := mark(demo.Quay)
	return []ground.Line{
		{q, {X: q.X - 14, Y: q.Y - 118}, {X: q.X + 26, Y: q.Y - 128}},
	}
}

// dryPlace keeps the bog sign away from houses and walls.
func dryPlace(p ground.Point) bool {
	for _, b := range buildings() {
		if p.Dist(b.At) < 170 {
			return true
		}
	}
	for _, w := range woods() {
		if within(points(w), points(ground.Line{p})[0]) {
			return true
		}
	}
	return false
}
