package opening

import (
	"slices"

	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// Kind says what a Question is about.
type Kind int

// The kinds of questions. Where it says so, a picture waits for the answer; the
// others leave the state as it is.
const (
	NoQuestion     Kind = iota
	WhichSheet          // what Path is to become: InPlace, Another, NewPlan; Decline
	DemoChanged         // the demo was changed, and goes: Agree, Decline. A picture may wait
	PlanChanged         // the plan was changed while the picture for a new plan was read: Agree, Decline. The picture waits
	OutsideFolder       // the plan names Path outside its own folder: Agree, Decline
	Missing             // the file of the sheet's picture is not there: Desk.Find; Decline
	AnotherPicture      // Path is not the picture that the sheet was made on: Agree, Decline. The picture waits
	WhichPage           // which page of the document that is shown: Agree with the page; Decline
)

// Question is something that only a person can decide.
type Question struct {
	Kind    Kind
	Path    string
	Picture *Picture // WhichPage: what is shown
	Beside  bool     // WhichPage: the page that is shown stays a sheet, and another page becomes another sheet
	Copy    bool     // Missing: a copy from the store is shown meanwhile
	number  int
}

// Choice is how a question is answered.
type Choice int

// The choices.
const (
	Decline   Choice = iota
	Agree            // yes
	ToReplace        // WhichSheet: in place of the sheet shown
	ToSheet          // WhichSheet: another sheet
	ToNewPlan        // WhichSheet: a new plan; ask about unsaved work before
)

// Answer answers a question.
type Answer struct {
	Choice Choice
	Page   plan.Page // WhichPage; DPI 0 means the resolution that suits the page
}

// asked is the question that waits for its answer.
type asked struct {
	now  Question
	last int // number of the latest question
}

// ask puts a question.
func (m *machine) ask(q Question) {
	a := m.asked
	a.last++
	q.number = a.last
	a.now = q
	m.host.Ask(q)
}

// withdraw takes away the question that waits.
func (m *machine) withdraw() {
	if m.asked.now.Kind != NoQuestion {
		m.asked.now = Question{}
		m.host.Ask(Question{})
	}
}

// Answer takes the answer to a question. An answer to a question that was withdrawn,
// or answered already, does nothing.
func (d *Desk) Answer(q Question, a Answer) {
	m := d.m
	if q.Kind == NoQuestion || q.number != m.asked.now.number {
		return
	}
	m.asked.now = Question{}
	switch {
	case q.Kind == WhichPage && a.Choice == Agree:
		m.openPage(q, a.Page)
	case q.Kind == OutsideFolder:
		m.answerOutside(q.Path, a.Choice == Agree)
	case q.Kind == WhichPage || q.Kind == Missing:
	case m.state == Asking && a.Choice == Agree:
		m.job.agreed = m.s.Plan()
		if q.Kind == AnotherPicture {
			m.job.use = Found
		}
		m.use(m.job)
	case m.state == Asking:
		m.notUsed()
	case a.Choice == Decline:
		m.host.Tell(Report{Reason: NotOpened, Path: q.Path, Rest: m.past.rest(q.Path)})
	default:
		use := map[Choice]Use{Agree: NewPlan, ToReplace: InPlace, ToSheet: Another, ToNewPlan: NewPlan}[a.Choice]
		m.start(&job{wanted: wanted{path: q.Path}, use: use, choosePage: true, agreed: m.s.Plan()})
	}
}

// reach says which pictures the plan names outside its own folder that nobody here
// chose. None of them is touched before the person agrees.
type reach struct {
	ask      []string
	declined []string // those of them that the person refused
}

func (m *machine) setReach(r planfile.Reach) {
	m.reach = &reach{ask: r.Ask}
	m.from.reach.Store(&r)
}

func (r *reach) withholds(path string) bool { return slices.Contains(r.ask, path) }

// chosen notes that a person picked this picture, so that nobody asks about it.
func (r *reach) chosen(path string) {
	r.ask = slices.DeleteFunc(slices.Clone(r.ask), func(p string) bool { return p == path })
}

func (m *machine) answerOutside(path string, agree bool) {
	if agree {
		m.reach.chosen(path)
		m.openOwn()
		return
	}
	m.reach.declined = append(m.reach.declined, path)
	m.host.Tell(Report{Reason: Withheld, Path: path})
}
