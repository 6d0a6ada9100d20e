package teachpanel

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/misread"
	"legwright/app/teach"
	"legwright/app/ui/widgets"
)

// slips name the slips of the compass behind guesses, once the answer shows.
type slips struct {
	n     *Needs
	stage *stage
	care  *widgets.Chooser // how the bearings were read
	body  *fyne.Container  // the care, and a sentence of each slip
	told  *fyne.Container
	says  []string // what told shows
}

// mostTold is how many slips are written out: nobody learns from a longer list.
const mostTold = 4

func newSlips(n *Needs, st *stage, chosen func()) *slips {
	s := &slips{n: n, stage: st, told: container.NewVBox()}
	s.care = widgets.NewChooser([]string{"by eye", "by compass"}, func(int) { chosen() })
	s.body = container.NewVBox(labelled("bearings read", s.care), s.told)
	return s
}

// explained are the guesses with what may have made them; nothing while figures are
// hidden, and where there is nothing to judge by.
func (s *slips) explained() []teach.Explained {
	r, ok := s.stage.reading()
	if !ok || s.stage.concealed {
		return nil
	}
	return s.n.Lesson.Explain(r, teach.Care(s.care.Chosen()), s.stage.circle())
}

// fill tells each slip that was made, with what keeps one from it.
func (s *slips) fill() {
	visible(s.body, s.n.Lesson.Ask() == teach.AskBearing)
	says := s.sentences()
	if slices.Equal(says, s.says) {
		return
	}
	s.says = says
	s.told.RemoveAll()
	for _, text := range says {
		s.told.Add(widgets.NewSentence(text, widgets.Note))
	}
}

func (s *slips) sentences() []string {
	r, ok := s.stage.reading()
	if !ok {
		return nil
	}
	var out []string
	seen := map[misread.Slip]bool{}
	for _, e := range s.explained() {
		for _, f := range e.Findings {
			if !seen[f.Slip] && len(out) < mostTold {
				out = append(out, s.n.Lesson.Say(r, f, s.stage.circle()))
			}
			seen[f.Slip] = true
		}
	}
	return out
}

// perhaps says under a guess which slips make it.
func perhaps(e teach.Explained) string {
	if words := e.Words(); words != "" {
		return "perhaps " + words
	}
	return ""
}
