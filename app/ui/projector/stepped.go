package projector

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/look"
	"legwright/app/units"
)

// step says a step of the compass: what is done, how to see that it is right, what the
// ring shows, and at the end where it leads.
func (t *told) step(step teach.Stepping, line teach.Line, r leg.Reading, s *session.Session) {
	p := s.Plan()
	task := teach.TaskOf(r, p.Party.Compass)
	labels := p.Labels()
	from, to := labels.Of(line.From), labels.Of(line.To)
	view := baseplate.ViewOf(step, task)
	view.Index = "" // it stands beside the picture, larger
	view.Names = baseplate.Names{From: from, To: to}
	t.compass = &view
	said := step.Words(task)
	rank := 0
	if step.Step == teach.LastStep { // where it leads matters more
		rank = 1
	}
	t.over(words(said.Do, rank))
	t.over(quiet(said.See, 2))
	if said.Slip != "" {
		t.over(fault(said.Slip, wordShare))
	}
	stopped := t.stop(r)
	figure, north, _ := strings.Cut(said.Index, " ")
	t.under(figureToSet(figure, north, struck(r)))
	if step.Step == teach.LastStep && !stopped {
		t.outcome(step, task, or(from, "FROM"), or(to, "TO"))
	}
	t.notes(caution.Shorts(caution.OfGrade(caution.OfLeg(r.Cautions), caution.Note)))
}

// outcome says where the steps lead: in words where all is right, else in figures, for a
// sentence with figures as high as they must be would fill the board. Where nobody may
// walk on the figures they lead nowhere.
func (t *told) outcome(step teach.Stepping, task teach.CompassTask, from, to string) {
	o, said := step.Outcome(task), step.OutcomeWords(task, from, to)
	if said.Notice == "" {
		t.under(words(said.Leads, 0))
		return
	}
	circle := task.Compass.Circle
	lead, where := "you walk "+circle.Figure(o.Bearing.Angle())+" grid", to
	if step.Way == teach.GroundToMap {
		lead, where = "you draw the line at "+circle.Figure(o.Bearing.Back().Angle())+" grid", from
	}
	for _, text := range []string{lead, units.ErrorM(o.MissM) + " from " + where} {
		r := row(text, 0)
		r.ink, r.bold = look.Fault, true
		t.under(r)
	}
	t.under(quiet(said.Notice, 2))
}

// or returns a name, or another text where there is none.
func or(name, other string) string {
	if name == "" {
		return other
	}
	return name
}
