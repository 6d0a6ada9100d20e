package teachpanel

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
)

// two is the job of two people who each take a bearing: can they mean the same feature?
type two struct {
	n        *Needs
	stage    *stage
	frame    *twoFrame
	hint     *widgets.Sentence
	cautions *cautionList
	people   [2]*person
	half     *tolerance
	list     *judgedList
	picks    *picks
	at       int // whose position and bearing clicks and the dial are
	north    units.North
	meeting  *teach.Meeting // nil while a bearing is missing
	on       bool
}

// twoFrame is what holds the parts of the job: all of it, and the row of the tolerance.
type twoFrame struct{ inset, good fyne.CanvasObject }

func newTwo(n *Needs, st *stage) *two {
	x := &two{n: n, stage: st, frame: &twoFrame{}, hint: widgets.NewSentence("", widgets.Note), cautions: newCautionList(), north: n.Lesson.North()}
	for i, who := range []string{"First person", "Second person"} {
		hint := fmt.Sprintf("Click, type and turn the dial for the %s  (P)", [...]string{"first person", "second person"}[i])
		x.people[i] = newPerson(n, st, who, hint, func() { x.goTo(i) }, func() { x.stood(i) }, x.judge)
	}
	for i, p := range x.people {
		p.bearing.rest = x.bring
		other := x.people[1-i]
		p.from.field.OnAccepted = func() { n.onward(p.bearing.field, other.from.field, other.bearing.field) }
		p.bearing.field.OnAccepted = func() { n.onward(p.from.field, other.from.field, other.bearing.field) }
	}
	x.half = newTolerance(n, st, x.judge)
	x.frame.good = labelled("both good to", container.NewHBox(x.half.body))
	x.picks = &picks{n: n, changed: x.fill, choice: x.chose}
	x.list = newJudgedList(n, st, x.picks.choose, x.picks.remove)
	x.frame.inset = inset(n, container.NewVBox(x.people[0].body, x.people[1].body, x.frame.good, x.hint, x.cautions.body, x.list.body))
	return x
}

func (x *two) body() fyne.CanvasObject { return x.frame.inset }

func (x *two) tool() sheetview.Tool { return sheetview.Tool{Kind: tool.Select, Click: x.click} }

// draw adds both rays with their wedges, where they cross, and what fits both.
func (x *two) draw(s *overlay.Scene) {
	d, ok := x.stage.rays()
	if !ok {
		return
	}
	for i, p := range x.people {
		d.stand(p.from, [...]string{"first", "second"}[i], p.answer, i == 1)
	}
	if x.meeting != nil {
		d.cross(x.meeting.Crossing)
	}
	d.judged(x.fits(), x.picks)
	s.Lesson = d.out
}

func (x *two) show(on bool) {
	if x.on = on; !on {
		for _, p := range x.people {
			p.bearing.end()
			p.from.setPicking(false)
		}
		return
	}
	x.people[x.at].bearing.begin()
	x.hint.Hold(true) // the list below it is clicked at while the dial turns
	x.fill()
}

func (x *two) key(e *fyne.KeyEvent) bool { return x.picks.key(e, x.list) }

func (x *two) letter(r rune) bool {
	switch r {
	case 'p':
		x.goTo(1 - x.at)
	case 'f':
		x.people[x.at].from.togglePicking()
	case 't':
		x.people[x.at].bearing.turn()
	default:
		return x.people[x.at].bearing.typed(r)
	}
	return true
}

// goTo gives clicks and the dial to one of the two.
func (x *two) goTo(i int) {
	if x.at != i {
		x.people[x.at].from.setPicking(false)
		x.people[x.at].bearing.end()
		x.at = i
		x.people[i].bearing.begin()
	}
	x.tell()
}

// fill follows the lesson and the plan.
func (x *two) fill() {
	if !x.on {
		return
	}
	if now := x.n.Lesson.North(); now != x.north {
		x.north = now
		x.people[x.at].bearing.follow(now)
	}
	for _, p := range x.people {
		p.from.fill()
		p.bearing.fill()
		p.stand(x.picks.features.asNow(x.n))
	}
	x.half.fill()
	x.judge()
}

// stood reads everything from another position of one of the two.
func (x *two) stood(i int) {
	x.goTo(i)
	x.people[i].stand(x.picks.features.asNow(x.n))
	x.judge()
	x.bring()
}

// bring brings the crossing into sight with both who stand on the sheet, once their
// bearings stand.
func (x *two) bring() {
	if x.meeting != nil && x.meeting.Crossing != nil && !x.stage.concealed {
		x.n.bring(x.meeting.Crossing.At, x.people[0].from, x.people[1].from)
	}
}

// judge judges by other bearings. It is called for every turn of the dial.
func (x *two) judge() {
	half, training := x.half.half, trainingOf(x.n)
	x.meeting = nil
	for _, p := range x.people {
		p.judge(half, training)
	}
	a, b := x.people[0], x.people[1]
	if a.answer != nil && b.answer != nil {
		m, err := teach.Meet(a.lookout, b.lookout, a.sighting("the first person", half), b.sighting("the second person", half), training)
		if b.err = err; err == nil {
			x.meeting = &m
		}
	}
	x.tell()
	x.stage.redraw()
}

// tell shows the result, unless figures are hidden.
func (x *two) tell() {
	if !x.on {
		return
	}
	told := !x.stage.concealed
	for _, o := range []fyne.CanvasObject{x.cautions.body, x.people[0].body, x.people[1].body, x.frame.good, x.list.body} {
		visible(o, told)
	}
	x.hint.Set(x.next())
	for i, p := range x.people {
		p.head.SetOn(i == x.at)
	}
	x.cautions.set(nil)
	var texts []judgedText
	if m := x.meeting; m != nil {
		x.cautions.set(m.Cautions)
		for _, b := range m.Fits {
			texts = append(texts, x.row(b))
		}
	}
	x.list.set(texts)
}

// row says how a mark or feature fits both.
func (x *two) row(b teach.Both) judgedText {
	key := keyOf(teach.Candidate{ID: b.ID, Name: b.Name})
	t := judgedText{key: key, name: b.Name, note: b.Text, verdict: b.Verdict, chosen: key == x.picks.chosen}
	if b.Verdict != teach.NoVerdict {
		t.figure = b.Verdict.String()
	}
	if t.chosen && b.Verdict != teach.NoVerdict {
		c := x.stage.circle()
		t.note = fmt.Sprintf("first: %s · second: %s", side(b.Off[0], c), side(b.Off[1], c))
	}
	return t
}

// next says the result, or what to do next.
func (x *two) next() (text string, tone widgets.Tone) {
	var not *teach.NorthNotSaid
	missing := x.stage.missing()
	for i, p := range x.people {
		who := [...]string{"First person: ", "Second person: "}[i]
		switch {
		case x.stage.concealed:
			return hiddenWords, widgets.Note
		case errors.As(p.err, &not):
			return who + not.Error() + ".", widgets.Caution
		case p.err != nil:
			return who + foot.Sentence(p.err), widgets.Fault
		case p.from.picking, !p.from.known && missing == "":
			return who + "click where they stand, or type a mark or a reference.", widgets.Note
		case !p.from.known:
			return missing + " Or type where both stand.", widgets.Note
		case !p.bearing.known:
			return who + "turn the dial, or type the bearing with its north, such as 060 grid.", widgets.Note
		}
	}
	return x.verdictWords()
}

// verdictWords say the verdict, and who stands off the sheet that is seen.
func (x *two) verdictWords() (string, widgets.Tone) {
	m := x.meeting
	if m == nil {
		return "", widgets.Note
	}
	tone := widgets.Caution
	switch {
	case m.Stopped:
		return m.Text, widgets.Fault
	case m.Verdict == teach.Likely:
		tone = widgets.Note
	}
	return joined(x.people[0].from.off(), joined(x.people[1].from.off(), m.Text)), tone
}

// click takes a click on the sheet: where somebody stands, and then features.
func (x *two) click(at tool.Spot, double bool) {
	if double {
		return
	}
	other := 1 - x.at
	switch me := x.people[x.at]; {
	case me.from.wants():
		me.from.click(at)
	case !x.people[other].from.known:
		x.goTo(other)
		x.people[other].from.click(at)
	case at.Target.Kind == plan.OfMark:
		x.picks.choose(string(at.Target.ID))
	default:
		x.picks.add(at)
	}
}

// chose shows another choice.
func (x *two) chose() {
	x.tell()
	x.stage.redraw()
}

// fits is how a candidate fits both.
func (x *two) fits() []teach.Candidate {
	var out []teach.Candidate
	if x.meeting != nil {
		for _, b := range x.meeting.Fits {
			out = append(out, teach.Candidate{ID: b.ID, Name: b.Name, Verdict: b.Verdict})
		}
		return out
	}
	for _, f := range x.picks.features.list {
		out = append(out, teach.Candidate{Name: f.Name})
	}
	return out
}
