package lessondraw

import (
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// Of returns what is drawn of a lesson and of the reading of its line, which is the
// trained one where a training GMA is declared. It is empty without a line, and where the
// line does not lie on the sheet of the sketch.
//
// Guesses are drawn once the figures are shown. Before that they would stand beside the
// line, and whoever guesses later would see which way the others erred. So is the line
// along which a slip with the compass leads, with its figures at its end.
func Of(k overlay.Sketch, l *teach.Lesson, r leg.Reading, c plan.Compass) overlay.Lesson {
	line, ok := l.Line()
	if !ok {
		return overlay.Lesson{}
	}
	out := overlay.Lesson{Line: k.Line(line.From, line.To, ""), Watermark: Watermark(l, c.Circle)}
	if out.Line == nil {
		return overlay.Lesson{}
	}
	var norths []overlay.Toward
	for _, n := range overlay.NorthsOf(r) {
		if n.North == l.North() {
			out.Arc = k.Arc(out.Line.From, n, r.Grid)
		}
		if l.Draws(n.North) {
			norths = append(norths, n)
		}
	}
	out.Norths = k.Norths(out.Line.From, norths)
	if l.GuessesDrawn() {
		out.Fan = guesses(k, l, r, *out.Line)
	}
	out.Led = led(k, l, teach.TaskOf(r, c), r, *out.Line)
	return out
}

// led is where the slip leads that has been made in stepping through the compass: from
// FROM on the ground, back from the feature on the map. Where nobody may walk on the
// figures it leads nowhere.
func led(k overlay.Sketch, l *teach.Lesson, t teach.CompassTask, r leg.Reading, line overlay.LessonLine) []overlay.Led {
	step, on := l.Stepping()
	o, wrong := step.Led(t)
	if !on || !wrong || l.Hidden() || teach.StopOf(r) != "" {
		return nil
	}
	from, bearing := line.From, o.Bearing
	if step.Way == teach.GroundToMap {
		from, bearing = line.To, o.Bearing.Back()
	}
	if e, ok := k.Led(from, bearing, t.LengthM, step.LedWords(t, o)); ok {
		return []overlay.Led{e}
	}
	return nil
}

// Watermark is what stands across everything that is made with a training GMA, "" without
// one.
func Watermark(l *teach.Lesson, c units.Circle) string {
	if g, ok := l.Training(); ok {
		return "TRAINING GMA " + c.GMAFigure(g)
	}
	return ""
}

// guesses are those of what the lesson asks: lines for bearings, ticks for distances.
func guesses(k overlay.Sketch, l *teach.Lesson, r leg.Reading, line overlay.LessonLine) []overlay.FanLine {
	if !l.Ask().OnSheet() {
		return nil
	}
	if l.Ask() == teach.AskDistance {
		var median *float64
		if m, ok := l.MedianNumber(teach.AskDistance); ok {
			median = &m
		}
		return line.Ticks(r.GroundM, l.Numbers(teach.AskDistance), median)
	}
	var bearings []units.GridBearing
	for _, a := range l.Bearings() {
		if b, ok := GridOf(r, l.GuessNorth(), a); ok {
			bearings = append(bearings, b)
		}
	}
	var median *units.GridBearing
	if m, ok := l.MedianBearing(); ok {
		if b, ok := GridOf(r, l.GuessNorth(), m); ok {
			median = &b
		}
	}
	return k.Fan(line.From, r.GridM, bearings, median)
}

// GridOf turns a bearing that counts from a north at the reading's FROM into one of the
// grid; false where that north is not known there.
func GridOf(r leg.Reading, from units.North, a units.Angle) (units.GridBearing, bool) {
	switch from {
	case units.GridNorth:
		return units.NewGridBearing(a), true
	case units.MagneticNorth:
		return units.NewMagneticBearing(a).Grid(r.GMA), r.HasMagnetic
	case units.TrueNorth:
		return units.NewTrueBearing(a).Grid(r.Convergence), true
	}
	return 0, false
}
