package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/widgets"
)

// stepSaid holds the sentences about a step: what to do, what was done wrong and where it
// leads, and the cautions, the stops first.
type stepSaid struct {
	body   fyne.CanvasObject
	all    *fyne.Container
	stops  *cautionList
	do     *widget.Label
	slip   *widgets.Sentence
	leads  *widgets.Sentence
	notice *widgets.Sentence
	see    *widgets.Quiet
	notes  *cautionList
}

func newStepSaid(n *Needs) *stepSaid {
	x := &stepSaid{stops: newCautionList(), notes: newCautionList(), do: widgets.NewWrapped(""), see: widgets.NewWrappedQuiet("")}
	x.do.SizeName, x.do.TextStyle.Bold = theme.SizeNameSubHeadingText, true
	x.slip, x.leads, x.notice = widgets.NewSentence("", widgets.Fault), widgets.NewSentence("", widgets.Fault), widgets.NewSentence("", widgets.Note)
	x.all = container.NewVBox(x.stops.body, x.do, x.slip, x.leads, x.notice, x.see, x.notes.body)
	x.body = widgets.NewNestedScroll(container.New(&widgets.Pad{Left: 12, Top: 8, Right: 12, Bottom: 8}, x.all), n.Outer)
	return x
}

// hint says what to do first, and nothing else.
func (x *stepSaid) hint(text string) {
	x.stops.set(nil)
	x.notes.set(nil)
	x.write(text, "")
	say(x.slip, "", widgets.Note)
	x.outcome(teach.OutcomeWords{}, widgets.Note)
}

// tell says a step of a line.
func (x *stepSaid) tell(s teach.Stepping, t teach.CompassTask, r leg.Reading, names baseplate.Names) {
	x.stops.set(caution.OfGrade(r.Cautions, caution.Stop))
	x.notes.set(caution.OfGrade(r.Cautions, caution.Note))
	said := s.Words(t)
	slip, tone := said.Slip, widgets.Fault
	if slip == "" && s.Wrong != teach.DoneRight && t.HasMagnetic {
		slip, tone = "A later step will be done wrong: "+s.Wrong.Words()+".", widgets.Note
	}
	say(x.slip, slip, tone)
	o := teach.OutcomeWords{}
	if teach.StopOf(r) == "" && (s.Step == teach.LastStep || said.Slip != "") {
		o = s.OutcomeWords(t, or(names.From, "FROM"), or(names.To, "TO"))
	}
	x.outcome(o, toneOf(s, o))
	see := said.See
	if said.Slip != "" { // it is not right
		see = ""
	}
	x.write(said.Do, see)
}

// toneOf is the tone in which an outcome is said.
func toneOf(s teach.Stepping, o teach.OutcomeWords) widgets.Tone {
	switch {
	case o.Notice != "":
		return widgets.Fault
	case s.Wrong == teach.DoneRight:
		return widgets.Good
	}
	return widgets.Note
}

func (x *stepSaid) outcome(o teach.OutcomeWords, tone widgets.Tone) {
	say(x.leads, o.Leads, tone)
	say(x.notice, o.Notice, widgets.Note)
}

// write says what to do, and how to see that it is right. A label that takes more lines
// than before does not ask for their room by itself.
func (x *stepSaid) write(do, see string) {
	write(x.do, do)
	write(&x.see.Label, see)
	visible(x.see, see != "")
	x.all.Refresh()
}

// say writes a sentence, or hides it where there is nothing to say.
func say(s *widgets.Sentence, text string, tone widgets.Tone) {
	s.Set(text, tone)
	visible(s, text != "")
}

// or returns a name, or another word where there is none.
func or(name, other string) string {
	if name == "" {
		return other
	}
	return name
}
