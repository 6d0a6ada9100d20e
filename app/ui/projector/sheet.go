package projector

import (
	"math"
	"time"

	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/lessondraw"
	"legwright/canvas/mapview"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// sheet shows the sheet with the line of the lesson and the marks, and nothing else of
// the plan: labels of legs would say their figures, and ticks their length.
type sheet struct {
	s       *session.Session
	lesson  *teach.Lesson
	later   func(func())
	after   func(time.Duration, func())
	area    *mapview.MapView
	beside  func(*sheet) mapview.Beside // what changes in one step with the drawing
	preview bool                        // the picture may be another one than the plan's
	asked   bool                        // a drawing is on its way
	resized bool                        // its area has another size
	shown   teach.Line
}

func newSheet(p *Projector) *sheet {
	x := &sheet{s: p.n.Session, lesson: p.n.Lesson, later: p.n.Later, after: p.n.After, beside: p.beside, area: mapview.New(mapview.Callbacks{})}
	x.area.RunLater(p.n.Later)
	x.area.SetTool(tool.Pan)
	return x
}

// show shows a picture, or none.
func (x *sheet) show(p *pyramid.Pyramid, preview bool) {
	x.preview = preview
	x.area.SetPicture(p)
	x.shown = teach.Line{}
	x.follow()
}

// follow makes one drawing once the present act is over, and brings a line that has come
// into view.
func (x *sheet) follow() {
	if x.asked {
		return
	}
	x.asked = true
	x.later(func() {
		x.asked = false
		scene := x.scene()
		x.area.SetSceneWith(scene, x.beside(x))
		x.bring(scene.Lesson.Line)
	})
}

// scene is what is drawn.
func (x *sheet) scene() overlay.Scene {
	c, err := x.s.Calibration()
	if err != nil || x.preview {
		return overlay.Scene{}
	}
	shown, _ := x.s.Sheet()
	all := overlay.SceneOf(x.s.Plan(), x.s.Reader(), c, overlay.Selection{}, overlay.Options{
		Sheet: shown.ID, Legs: []leg.Row{}, Tracks: []overlay.Track{},
	})
	out := overlay.Scene{Marks: all.Marks}
	k, ok := overlay.SketchOn(x.s.Reader(), shown.ID)
	r, err := x.lesson.Read(x.s.Reader())
	if !ok || err != nil {
		return out
	}
	out.Lesson = lessondraw.Of(k, x.lesson, r, x.s.Plan().Party.Compass)
	if out.Lesson.Norths.Note != "" {
		out.Lesson.Norths.Note = spreadNote
	}
	for i := range out.Lesson.Led { // the board says the figures, as large as they must be
		step, _ := x.lesson.Stepping()
		out.Lesson.Led[i].Label = step.Wrong.Words()
	}
	if line := out.Lesson.Line; line != nil {
		for _, e := range all.Ends {
			if e.At.Dist(line.From) < 1 || e.At.Dist(line.To) < 1 {
				out.Ends = append(out.Ends, e)
			}
		}
	}
	return out
}

// spreadNote stands beside north lines that are drawn farther apart than they are. The
// figure by how much would be too small to read from afar.
const spreadNote = "north lines not to scale"

// roomAround is the room around a line as a part of its longer side: that of its north
// lines.
const roomAround = 0.22

// bring brings the line of the lesson into view when it has come. A line that is being
// drawn moves the sheet only where it would not be seen.
func (x *sheet) bring(line *overlay.LessonLine) {
	now, ok := x.lesson.Line()
	if !ok || line == nil {
		x.shown = teach.Line{}
		return
	}
	came := now != x.shown && (now.ID != "" || x.shown.ID != "")
	drawn := now != x.shown
	x.shown = now
	room := 0.0
	if x.resized {
		room = edgeRoom
	}
	x.resized = false
	if came || !x.sees(line.From, room) || !x.sees(line.To, room) {
		x.bringAgain(line)
		return
	}
	if drawn {
		x.afterRest(now)
	}
}

const (
	// restTime is how long a drawn line must stay as it is to count as drawn.
	restTime = 400 * time.Millisecond
	// shortLine is, as a part of the view's shorter side, what is too short to be looked at.
	shortLine = 0.25
)

// afterRest brings a drawn line nearer once it is no longer dragged: on a sheet that is
// seen as a whole it may be too short to show anything.
func (x *sheet) afterRest(drawn teach.Line) {
	x.after(restTime, func() {
		now, ok := x.lesson.Line()
		if !ok || now != drawn || x.area.View().IsZero() {
			return
		}
		line := x.scene().Lesson.Line
		w, h := x.area.View().Viewport()
		if line != nil && x.area.View().Scale()*line.From.Dist(line.To) < shortLine*float64(min(w, h)) {
			x.bringAgain(line)
		}
	})
}

// edgeRoom is how far from the edge of a sheet that was made smaller or larger a line must
// stay, as a part of its sides.
const edgeRoom = 0.12

// resize brings the line into view again where another size has brought it near the edge.
func (x *sheet) resize() {
	x.resized = true
	x.follow()
}

// bringAgain shows the line with some room around it.
func (x *sheet) bringAgain(line *overlay.LessonLine) {
	r := view.RectOf(line.From, line.To)
	room := roomAround * math.Max(r.Max.X-r.Min.X, r.Max.Y-r.Min.Y)
	r.Min.X, r.Min.Y, r.Max.X, r.Max.Y = r.Min.X-room, r.Min.Y-room, r.Max.X+room, r.Max.Y+room
	x.area.ShowRect(r)
}

// sees reports whether a point of the picture is in view, with some room as a part of the
// view's sides.
func (x *sheet) sees(p view.PicPt, room float64) bool {
	v := x.area.View()
	if v.IsZero() {
		return true
	}
	at := v.ToScreen(p)
	w, h := v.Viewport()
	in := func(a, side float64) bool { return a >= room*side && a <= (1-room)*side }
	return in(at.X, float64(w)) && in(at.Y, float64(h))
}

// home shows the line again, or the whole sheet where there is none.
func (x *sheet) home() {
	if line := x.scene().Lesson.Line; line != nil {
		x.bringAgain(line)
		return
	}
	x.area.Fit()
}
