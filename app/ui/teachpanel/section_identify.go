package teachpanel

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// identify is the job that shows what lies on a bearing from a position: a ray with its
// wedge on the sheet, and every mark and feature that can be meant, or cannot.
type identify struct {
	n        *Needs
	stage    *stage
	words    *identifyWords
	cautions *cautionList // of the position and the model
	from     *standpoint
	bearing  *bearingField
	half     *tolerance
	good     fyne.CanvasObject // the tolerance with its label
	one      *chosenOne
	list     *judgedList
	picks    *picks
	north    units.North
	seen     *identified
	on       bool
}

// identifyWords are what holds the job, and its sentences: what to do now, and what the
// program does not know.
type identifyWords struct {
	inset        fyne.CanvasObject // all of the job
	hint, ground *widgets.Sentence
}

// identified is the last result.
type identified struct {
	lookout *teach.Lookout // nil without a position
	list    []teach.Candidate
	answer  *teach.Answer // nil without a ray
	err     error
}

func newIdentify(n *Needs, st *stage) *identify {
	x := &identify{n: n, stage: st, words: &identifyWords{hint: widgets.NewSentence("", widgets.Note)}, seen: &identified{}, cautions: newCautionList(), north: n.Lesson.North()}
	x.from = newStandpoint(n, "from", "Click on the sheet where you stand", x.stood)
	x.half = newTolerance(n, st, x.judge)
	x.good = labelled("good to", container.NewHBox(x.half.body))
	x.bearing = newBearingField(n, st, "Your bearing", func() {}, x.judge)
	x.from.field.OnAccepted = func() { n.onward(x.bearing.field) }
	x.bearing.field.OnAccepted = func() { n.onward(x.from.field) }
	x.one = newChosenOne(st)
	x.picks = &picks{n: n, changed: x.stood, choice: x.chose}
	x.list = newJudgedList(n, st, x.picks.choose, x.picks.remove)
	x.words.ground = widgets.NewSentence("", widgets.Note)
	x.words.inset = inset(n, container.NewVBox(x.from.body, x.bearing.body, x.good, x.words.hint, x.cautions.body, x.one.body, x.list.body, x.words.ground))
	return x
}

func (x *identify) body() fyne.CanvasObject { return x.words.inset }

func (x *identify) tool() sheetview.Tool {
	return sheetview.Tool{Kind: tool.Select, Click: x.click}
}

// draw adds the ray with its wedge, and what fits it or cannot.
func (x *identify) draw(s *overlay.Scene) {
	if d, ok := x.stage.rays(); ok {
		d.stand(x.from, "you", x.seen.answer, false)
		d.judged(x.seen.list, x.picks)
		s.Lesson = d.out
	}
}

func (x *identify) show(on bool) {
	if x.on = on; !on {
		x.bearing.end()
		x.from.setPicking(false)
		return
	}
	x.bearing.begin()
	x.words.hint.Hold(true) // the list below it is clicked at while the dial turns
	x.fill()
}

func (x *identify) key(e *fyne.KeyEvent) bool { return x.picks.key(e, x.list) }

func (x *identify) letter(r rune) bool {
	switch r {
	case 'f':
		x.from.togglePicking()
	case 't':
		x.bearing.turn()
	default:
		return x.bearing.typed(r)
	}
	return true
}

// fill follows the lesson and the plan.
func (x *identify) fill() {
	if !x.on {
		return
	}
	if now := x.n.Lesson.North(); now != x.north {
		x.north = now
		x.bearing.follow(now)
	}
	x.from.fill()
	x.bearing.fill()
	x.half.fill()
	x.stood()
}

// stood reads everything from another position.
func (x *identify) stood() {
	x.seen = &identified{}
	if pos, ok := x.from.position(); ok {
		x.seen.lookout, x.seen.err = teach.NewLookout(x.n.Session.Reader(), pos, x.picks.features.asNow(x.n)...)
	}
	x.judge()
}

// judge judges everything by another ray. It is called for every turn of the dial.
func (x *identify) judge() {
	l, training := x.seen.lookout, trainingOf(x.n)
	x.seen.answer, x.seen.list = nil, nil
	if l != nil {
		x.seen.err = nil
		if x.bearing.known {
			var a teach.Answer
			if a, x.seen.err = l.Identify(x.bearing.said, x.half.half, training); x.seen.err == nil {
				x.seen.answer, x.seen.list = &a, a.Candidates
			}
		}
		if x.seen.answer == nil {
			list, err := l.Look(x.n.Lesson.North(), training)
			x.seen.list = list
			if x.seen.err == nil {
				x.seen.err = err
			}
		}
	}
	x.tell()
	x.stage.redraw()
}

// tell shows the result, unless figures are hidden.
func (x *identify) tell() {
	if !x.on {
		return
	}
	told := !x.stage.concealed
	for _, o := range []fyne.CanvasObject{x.cautions.body, x.from.body, x.bearing.body, x.good, x.list.body, x.words.ground} {
		visible(o, told)
	}
	x.words.hint.Set(x.next())
	if !told {
		x.one.show(nil, 0)
		return
	}
	c := x.stage.circle()
	x.cautions.set(nil)
	switch a := x.seen.answer; {
	case a != nil:
		x.cautions.set(a.Cautions)
		x.list.set(judgedTexts(*a, x.picks.chosen, c))
		x.one.show(x.theChosen(), a.Bearing.North)
	default:
		north := x.n.Lesson.North()
		x.list.set(lookedTexts(x.seen.list, north, x.picks.chosen, c))
		x.one.show(x.theChosen(), north)
	}
	x.words.ground.Set(groundWords(x.n.Session.Reader()), widgets.Note)
	visible(x.words.ground, len(x.seen.list) > 0)
}

// groundWords say what the program knows of what can be seen from a position.
func groundWords(r *leg.Reader) string {
	if r.Model() == nil {
		return "Without terrain the program cannot tell what is hidden: judge for yourself whether you can see a feature from where you stand."
	}
	return "Hidden means that the terrain shows higher ground in between. The terrain does not show trees, buildings, cloud or small rises: judge for yourself whether you can see a feature from where you stand."
}

// theChosen is the candidate that is chosen, or nil.
func (x *identify) theChosen() *teach.Candidate {
	i := slices.IndexFunc(x.seen.list, func(c teach.Candidate) bool { return keyOf(c) == x.picks.chosen })
	if i < 0 {
		return nil
	}
	return &x.seen.list[i]
}

// next says the result, or what to do next.
func (x *identify) next() (text string, tone widgets.Tone) {
	var not *teach.NorthNotSaid
	switch missing := x.missing(); {
	case x.stage.concealed:
		return hiddenWords, widgets.Note
	case missing != "":
		return missing, widgets.Note
	case errors.As(x.seen.err, &not):
		return not.Error() + ".", widgets.Caution
	case x.seen.err != nil:
		return foot.Sentence(x.seen.err), widgets.Fault
	case x.seen.answer == nil:
		return joined(x.from.off(), "Turn the dial, or type a bearing with its north, such as 060 grid. Click a feature to see its bearing explained."), widgets.Note
	case x.seen.answer.Stopped:
		return x.seen.answer.Text, widgets.Fault
	}
	return joined(x.from.off(), x.seen.answer.Text), widgets.Note
}

// missing says what there must be before anything can be judged; "" where nothing.
func (x *identify) missing() string {
	switch missing := x.stage.missing(); {
	case x.from.known && !x.from.picking:
		return ""
	case missing != "":
		return missing + " Or type where you stand, as a mark or a reference."
	case x.from.picking:
		return "Click on the sheet where you stand."
	}
	return "Click on the sheet where you stand, or type a mark or a reference."
}

// click takes a click on the sheet: where one stands, and then features.
func (x *identify) click(at tool.Spot, double bool) {
	switch {
	case double:
	case x.from.wants():
		x.from.click(at)
	case at.Target.Kind == plan.OfMark:
		x.picks.choose(string(at.Target.ID))
	default:
		x.picks.add(at)
	}
}

// chose shows another choice, and brings it into sight.
func (x *identify) chose() {
	x.tell()
	x.stage.redraw()
	if c := x.theChosen(); c != nil && !x.stage.concealed {
		pos, _ := positionOf(x.n.Session.Plan(), x.picks.features.asNow(x.n), *c)
		x.n.bring(pos, x.from)
	}
}

// trainingOf is the GMA declared for the lesson, or nil.
func trainingOf(n *Needs) *units.GMA {
	if g, ok := n.Lesson.Training(); ok {
		return &g
	}
	return nil
}

// joined joins two sentences, of which either may be missing.
func joined(a, b string) string { return strings.TrimSpace(a + " " + b) }
