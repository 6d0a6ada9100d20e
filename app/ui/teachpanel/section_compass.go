package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/compassview"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// compass is the job that steps through the compass, right or wrong on request. The
// compass stands beside the sheet, its sentences in the dial's place.
type compass struct {
	n        *Needs
	stage    *stage
	controls *stepControls
	inset    fyne.CanvasObject
	said     *stepSaid
	picture  *compassview.Compass
	beside   fyne.CanvasObject
	line     teach.Line // that the picture shows
	on       bool
}

func newCompass(n *Needs, st *stage, letter func(rune) bool) *compass {
	x := &compass{n: n, stage: st, picture: compassview.New(), said: newStepSaid(n)}
	x.controls = newStepControls(n, st, x, letter)
	x.inset = container.New(&widgets.Pad{Right: 12, Bottom: 8}, x.controls.body)
	x.beside = widgets.NewSurface(x.picture, widgets.Left|widgets.Right, 8)
	x.beside.Hide()
	x.said.body.Hide()
	return x
}

func (x *compass) body() fyne.CanvasObject { return x.inset }

func (x *compass) tool() sheetview.Tool { return sheetview.Tool{Kind: tool.Sight} }

func (x *compass) draw(s *overlay.Scene) { x.stage.draw(s) }

// show brings the compass of the lesson, or puts it away; it stays where it was stepped
// to.
func (x *compass) show(on bool) {
	x.on = on
	visible(x.beside, on)
	visible(x.said.body, on)
	if !on {
		x.n.Lesson.ClearStepping()
		return
	}
	s, _ := x.n.Lesson.Stepping()
	x.n.Lesson.SetStepping(s)
	x.fill()
}

func (x *compass) key(*fyne.KeyEvent) bool { return false }

func (x *compass) letter(r rune) bool {
	switch {
	case r >= '0' && r <= '0'+teach.LastStep:
		x.step(int(r - '0'))
	case r == 'w':
		x.nextWrong()
	case r == 'm':
		x.otherWay()
	default:
		return false
	}
	return true
}

// step shows the compass after a step; 0 is before the first.
func (x *compass) step(to int) {
	x.change(func(s teach.Stepping) teach.Stepping { return s.To(to) })
}

// nextWrong goes on to the next mistake, and after the last to none.
func (x *compass) nextWrong() { x.change(teach.Stepping.NextWrong) }

// setWrong chooses a mistake, or none.
func (x *compass) setWrong(w teach.Wrong) {
	x.change(func(s teach.Stepping) teach.Stepping { s.Wrong = w; return s })
}

// otherWay begins the other way: from the ground to the map, or from the map to the
// ground.
func (x *compass) otherWay() { x.change(teach.Stepping.Other) }

// change sets another stepping, if there is a line to step along.
func (x *compass) change(by func(teach.Stepping) teach.Stepping) {
	if _, ok := x.n.Lesson.Line(); !ok {
		x.n.urge("Drag a line first, or press Page Down for the first line of the plan.")
		return
	}
	s, _ := x.n.Lesson.Stepping()
	x.n.Lesson.SetStepping(by(s))
	x.stage.bringLed()
}

// fill shows the compass of the lesson's line.
func (x *compass) fill() {
	if !x.on {
		return
	}
	s, _ := x.n.Lesson.Stepping()
	r, ok := x.stage.reading()
	if !ok || x.stage.concealed {
		x.line = teach.Line{}
		x.controls.fill(s, teach.CompassTask{})
		x.picture.Set(baseplate.View{Hidden: true})
		x.said.hint(x.hint(ok))
		return
	}
	task := teach.TaskOf(r, x.n.Session.Plan().Party.Compass)
	x.controls.fill(s, task)
	line, _ := x.n.Lesson.Line()
	names := x.names(line)
	x.said.tell(s, task, r, names)
	x.paint(line, x.view(s, task, r, names))
}

// hint says what to do where there is nothing to step through.
func (x *compass) hint(line bool) string {
	switch missing := x.stage.missing(); {
	case missing != "":
		return missing
	case !line:
		return "Press on a position and drag to a feature, or press Page Down for the first line of the plan."
	}
	return "The figures are hidden. Press H to show them, then go through the steps."
}

// names are those of the line's ends.
func (x *compass) names(line teach.Line) baseplate.Names {
	labels := x.n.Session.Plan().Labels()
	return baseplate.Names{From: labels.Of(line.From), To: labels.Of(line.To)}
}

// view is what the picture shows.
func (x *compass) view(s teach.Stepping, t teach.CompassTask, r leg.Reading, names baseplate.Names) baseplate.View {
	v := baseplate.ViewOf(s, t)
	v.Names, v.Stop = names, caution.Stops(r.Cautions, caution.OnLeg)
	return v
}

// paint has the compass turn from step to step; that of another line is shown at once.
func (x *compass) paint(line teach.Line, v baseplate.View) {
	if line == x.line {
		x.picture.Turn(v)
		return
	}
	x.line = line
	x.picture.Set(v)
}
