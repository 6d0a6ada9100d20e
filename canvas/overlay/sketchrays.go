package overlay

import (
	"math"

	"legwright/app/geodesy"
	"legwright/app/units"
	"legwright/canvas/view"
)

const (
	// raySteps is in how many steps a ray is followed over a sheet that bends it.
	raySteps = 48
	// rimStep is the angle between the points of a wedge's rim.
	rimStep = 10 * math.Pi / 180
	// straight is by how many pixels of the picture a ray may bend and is still drawn
	// as one piece.
	straight = 0.25
)

// Ray is a bearing from a position of the picture as far as the sheet reaches, with
// the wedge of its tolerance on both sides; 0 is not a wedge, and 90° or more are half a
// turn.
func (k Sketch) Ray(from view.PicPt, bearing units.GridBearing, tolerance units.Angle) Ray {
	out := Ray{From: from, line: k.follow(from, bearing.Angle())}
	half := math.Min(math.Abs(tolerance.Rad()), math.Pi/2)
	if len(out.line) == 0 || !(half > 0) {
		return out
	}
	out.left = k.follow(from, bearing.Angle()-units.Angle(half))
	out.right = k.follow(from, bearing.Angle()+units.Angle(half))
	n := int(math.Ceil(2 * half / rimStep))
	for i := range n + 1 {
		way := k.follow(from, bearing.Angle()+units.Angle(half*(2*float64(i)/float64(n)-1)))
		if len(way) > 0 {
			out.rim = append(out.rim, way[len(way)-1])
		}
	}
	return out
}

// follow is the way from a position along a bearing, as far as the picture reaches and
// the calibration can be followed. It is two points where the way is straight.
func (k Sketch) follow(from view.PicPt, bearing units.Angle) []view.PicPt {
	if k.b.c == nil {
		return nil
	}
	step := k.farthest(from) * 1.1 * k.b.c.MetresPerPixel() / raySteps
	way := []view.PicPt{from}
	for i := 1; i <= raySteps; i++ {
		at, ok := k.sound(from, bearing, float64(i)*step)
		if !ok {
			break
		}
		way = append(way, at)
	}
	if len(way) < 2 {
		return nil
	}
	if bent(way) {
		return way
	}
	return []view.PicPt{from, way[len(way)-1]}
}

// farthest is how far the farthest corner of the picture is from a point of it, pixels.
func (k Sketch) farthest(from view.PicPt) float64 {
	w, h := float64(k.b.sheet.Width), float64(k.b.sheet.Height)
	most := 0.0
	for _, corner := range []view.PicPt{{}, {X: w}, {Y: h}, {X: w, Y: h}} {
		most = max(most, from.Dist(corner))
	}
	return most
}

// sound is along where the calibration can be followed so far.
func (k Sketch) sound(from view.PicPt, bearing units.Angle, gridM float64) (view.PicPt, bool) {
	if k.b.c.Given() {
		return k.along(from, bearing, gridM), true
	}
	g := k.grid(from)
	sin, cos := math.Sincos(bearing.Rad())
	return k.b.placed(geodesy.Grid{E: g.E + gridM*sin, N: g.N + gridM*cos})
}

// bent reports whether a way leaves the straight line between its ends.
func bent(way []view.PicPt) bool {
	a, b := way[0], way[len(way)-1]
	long := a.Dist(b)
	for _, p := range way {
		if math.Abs((p.X-a.X)*(b.Y-a.Y)-(p.Y-a.Y)*(b.X-a.X)) > straight*long {
			return true
		}
	}
	return false
}

// Fan are guessed bearings from a position of the picture, each a line so many metres
// of the grid long. The median, where there is one, is drawn apart.
func (k Sketch) Fan(from view.PicPt, gridM float64, guesses []units.GridBearing, median *units.GridBearing) []FanLine {
	var out []FanLine
	for _, g := range guesses {
		out = k.fanLine(out, FanLine{From: from}, g, gridM)
	}
	if median != nil {
		out = k.fanLine(out, FanLine{From: from, Median: true}, *median, gridM)
	}
	return out
}

func (k Sketch) fanLine(out []FanLine, l FanLine, bearing units.GridBearing, gridM float64) []FanLine {
	if k.b.c == nil {
		return out
	}
	if l.To = k.along(l.From, bearing.Angle(), gridM); l.To != l.From {
		out = append(out, l)
	}
	return out
}

// Ticks are guessed distances along a line that is lengthM long: ticks across it, also
// beyond its end. The median, where there is one, is drawn apart.
func (l LessonLine) Ticks(lengthM float64, guessesM []float64, medianM *float64) []FanLine {
	var out []FanLine
	add := func(m float64, median bool) {
		if f := m / lengthM; f > 0 && !math.IsInf(f, 0) {
			to := view.PicPt{X: l.From.X + f*(l.To.X-l.From.X), Y: l.From.Y + f*(l.To.Y-l.From.Y)}
			out = append(out, FanLine{From: l.From, To: to, Across: true, Median: median})
		}
	}
	for _, m := range guessesM {
		add(m, false)
	}
	if medianM != nil {
		add(*medianM, true)
	}
	return out
}

// Led is where a wrong bearing leads from a position of the picture, after so many
// metres of the grid. It reports false where that cannot be drawn.
func (k Sketch) Led(from view.PicPt, bearing units.GridBearing, gridM float64, label string) (Led, bool) {
	if k.b.c == nil {
		return Led{}, false
	}
	to := k.along(from, bearing.Angle(), gridM)
	return Led{From: from, To: to, Label: label}, to != from
}

// rimPoints are how many points an ellipse is drawn with.
const rimPoints = 48

// Crossing is where two sightings cross, with the ellipse of its 95 % by its half axes
// in metres of the grid and the grid bearing of the longer one; equal ones are a circle.
func (k Sketch) Crossing(at view.PicPt, longM, shortM float64, bearing units.GridBearing, text string) Crossing {
	out := Crossing{At: at, Text: text}
	if k.b.c == nil || !(longM > 0) || math.IsInf(longM, 0) {
		return out
	}
	for i := range rimPoints + 1 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / rimPoints)
		r := math.Hypot(longM*cos, shortM*sin)
		out.rim = append(out.rim, k.along(at, bearing.Angle()+units.Angle(math.Atan2(shortM*sin, longM*cos)), r))
	}
	return out
}
