package opening_test

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/opening"
	"legwright/app/ui/opening/openingtest"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
)

// bench is a desk with all that a test needs around it. It is the desk's host, and
// stands for the main thread.
type bench struct {
	t       *testing.T
	desk    *opening.Desk
	s       *session.Session
	reads   *openingtest.Opener
	main    chan func()
	dir     string
	shown   opening.Shown
	reports []opening.Report
	asked   opening.Question             // the one that waits
	calls   int                          // of the host
	finest  bool                         // the finest level was told of
	asks    bool                         // what Tell returns
	stepped func(from, to opening.State) // called after each step of a reading; may be nil
}

// newBench is a desk whose readings the test drives, without a store.
func newBench(t *testing.T) *bench {
	t.Helper()
	reads := openingtest.NewOpener()
	b := benchOn(t, &opening.Source{Opener: reads})
	b.reads = reads
	return b
}

func benchOn(t *testing.T, from *opening.Source) *bench {
	t.Helper()
	b := &bench{t: t, main: make(chan func(), 4096), dir: t.TempDir()}
	b.s = session.New(planfile.NewStore(), nil, time.Now)
	b.desk = opening.New(b.s, from, b, opening.Options{
		Later:   func(f func()) { b.main <- f },
		Sharper: func(level int) { b.finest = b.finest || level == 0 },
	})
	t.Cleanup(b.desk.Close)
	return b
}

func (b *bench) Show(s opening.Shown) {
	b.calls++
	b.shown = s
	b.check()
}

func (b *bench) Progress() { b.calls++ }

func (b *bench) Tell(r opening.Report) bool {
	b.calls++
	b.reports = append(b.reports, r)
	return b.asks
}

func (b *bench) Ask(q opening.Question) {
	b.calls++
	b.asked = q
}

// check holds what the sheet shows against the desk and the plan.
func (b *bench) check() {
	b.t.Helper()
	p, usable := b.desk.Picture()
	state := b.desk.State()
	sheet, ok := b.s.Sheet()
	switch {
	case usable && (!ok || p.SHA256 != sheet.SHA256 || p.Page != sheet.Page) && !sheet.Embedded():
		b.t.Fatalf("%v: the sheet shows %s, and the plan's sheet is %q", state, p.Name(), sheet.Picture)
	case b.desk.Preview() != nil && (usable || state != opening.Preview):
		b.t.Fatalf("%v: a preview beside a picture", state)
	case (state == opening.Usable || state == opening.Whole || state == opening.Copy) != usable && state != opening.Looking && state != opening.Asking:
		b.t.Fatalf("%v: a picture to work on: %v", state, usable)
	case b.shown.Preview != (b.desk.Preview() != nil):
		b.t.Fatalf("%v: the window shows a preview: %v", state, b.shown.Preview)
	case !b.shown.Preview && (b.shown.Picture != nil) != usable:
		b.t.Fatalf("%v: the window shows a picture: %v, usable: %v", state, b.shown.Picture != nil, usable)
	}
}

// until runs what comes back to the main thread until a condition holds.
func (b *bench) until(what string, holds func() bool) {
	b.t.Helper()
	for limit := time.After(openingtest.Patience); !holds(); {
		select {
		case f := <-b.main:
			b.run(f)
		case <-limit:
			b.t.Fatalf("%v: waited in vain for %s", b.desk.State(), what)
		}
	}
}

// next is the next reading that begins. What comes back to the main thread is run until
// then: the end of one reading may begin the next.
func (b *bench) next() *openingtest.Reading {
	b.t.Helper()
	for limit := time.After(openingtest.Patience); ; {
		select {
		case f := <-b.main:
			b.run(f)
		case r := <-b.reads.Begun():
			if !r.Cancelled() {
				return r
			}
		case <-limit:
			b.t.Fatalf("%v: no picture is read", b.desk.State())
		}
	}
}

// heard does something and waits until the desk has told the window of it.
func (b *bench) heard(what string, do func()) {
	b.t.Helper()
	before := b.calls
	do()
	b.until(what, func() bool { return b.calls > before })
	for len(b.main) > 0 {
		b.run(<-b.main)
	}
}

// run does what came back to the main thread.
func (b *bench) run(f func()) {
	b.t.Helper()
	from := b.desk.State()
	f()
	b.check()
	if to := b.desk.State(); b.stepped != nil && to != from {
		b.stepped(from, to)
	}
}

// want fails unless the desk is in a state.
func (b *bench) want(state opening.State) {
	b.t.Helper()
	if got := b.desk.State(); got != state {
		b.t.Fatalf("the desk is %v, want %v", got, state)
	}
	b.check()
}

// last is the latest report.
func (b *bench) last() opening.Report {
	b.t.Helper()
	if len(b.reports) == 0 {
		b.t.Fatal("nothing was reported")
	}
	return b.reports[len(b.reports)-1]
}

// told reports whether there was a report for a reason.
func (b *bench) told(why opening.Reason) bool {
	return slices.ContainsFunc(b.reports, func(r opening.Report) bool { return r.Reason == why })
}

// picture writes a picture into the bench's folder.
func (b *bench) picture(name string, tone uint8) string {
	return openingtest.Picture(b.t, b.dir, name, tone)
}

// whole opens a picture as a sheet, from the file to its end.
func (b *bench) whole(path string) {
	b.t.Helper()
	b.desk.Open(path)
	b.finish()
}

// finish ends the reading under way with its whole picture.
func (b *bench) finish() {
	b.t.Helper()
	r := b.next()
	b.heard("the picture", func() { r.Finish() })
	b.until("the end", func() bool { return b.desk.State() == opening.Whole })
}

// answer answers the question that waits.
func (b *bench) answer(c opening.Choice) {
	q := b.asked
	b.asked = opening.Question{}
	b.desk.Answer(q, opening.Answer{Choice: c})
	b.check()
}

// wantQuestion fails unless a question of a kind waits.
func (b *bench) wantQuestion(k opening.Kind) {
	b.t.Helper()
	if b.asked.Kind != k {
		b.t.Fatalf("%v: asked %v, want %v", b.desk.State(), b.asked.Kind, k)
	}
}

// calibrate sets two control points on the sheet in hand.
func (b *bench) calibrate() {
	b.t.Helper()
	for i, ref := range []string{"NL 21 42", "NL 23 42"} {
		if _, err := b.s.AddControlPoint(calib.PicturePt{Col: float64(20 + 40*i), Row: 30}, ref); err != nil {
			b.t.Fatal(err)
		}
	}
}

// byMatrix calibrates the sheet as a picture's own file does.
func (b *bench) byMatrix() {
	b.t.Helper()
	if err := b.s.TakeGeoref([6]float64{10, 0, 21_000, 0, -10, 43_000}, 5, "EPSG:27700", ""); err != nil {
		b.t.Fatal(err)
	}
}

var errPulled = errors.New("the drive was pulled")

func TestOpenFromPreviewToWhole(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.want(opening.Empty)
	path := b.picture("ground.png", 1)
	b.desk.Open(path)
	b.want(opening.Looking)
	if j, ok := b.desk.Job(); !ok || j.Title != "ground.png" {
		t.Errorf("under way is %+v, %v", j, ok)
	}
	r := b.next()
	b.heard("the preview", r.Preview)
	b.want(opening.Preview)
	if _, ok := b.s.Sheet(); ok {
		t.Error("the plan has a sheet from a picture whose hash is not known")
	}
	b.heard("the hash", r.Hash)
	b.want(opening.Usable)
	if !b.shown.Fresh || b.shown.Use != opening.InPlace {
		t.Errorf("shown %+v, want a new sheet", b.shown)
	}
	b.heard("progress", func() { r.Tell("decoding", 30, 60) })
	if j, _ := b.desk.Job(); j.Progress.Done != 30 || j.Progress.Total != 60 {
		t.Errorf("progress %+v", j.Progress)
	}
	b.heard("the end", func() { r.Finish("a chunk is missing") })
	b.want(opening.Whole)
	if got := b.last(); got.Reason != opening.Opened || !got.First || !slices.Equal(got.File.Notes, []string{"a chunk is missing"}) {
		t.Errorf("told %+v", got)
	}
	if err := b.desk.Pyramid().WaitWhole(); err != nil {
		t.Error(err)
	}
	b.until("the finest level, which no preview showed", func() bool { return b.finest })
}

// Whatever ends an opening early, the plan and the picture that were there before come
// back.
func TestFailuresBringBackWhatWasThere(t *testing.T) {
	t.Parallel()
	come := map[string]func(*bench, *openingtest.Reading){
		"nothing":   func(*bench, *openingtest.Reading) {},
		"a preview": func(b *bench, r *openingtest.Reading) { b.heard("the preview", r.Preview) },
		"a picture": func(b *bench, r *openingtest.Reading) { b.heard("the picture", r.PreviewHashed) },
	}
	for had, came := range come {
		for how, end := range map[string]func(*bench, *openingtest.Reading){
			"fails":        func(b *bench, r *openingtest.Reading) { b.heard("the refusal", func() { r.Fail(errPulled) }) },
			"is cancelled": func(b *bench, _ *openingtest.Reading) { b.desk.Cancel() },
		} {
			for _, use := range []opening.Choice{opening.ToReplace, opening.ToSheet, opening.ToNewPlan} {
				b := newBench(t)
				b.whole(b.picture("ground.png", 1))
				b.calibrate()
				before := b.s.Plan()
				b.desk.Open(b.picture("other.png", 2))
				b.wantQuestion(opening.WhichSheet)
				b.answer(use)
				r := b.next()
				came(b, r)
				end(b, r)
				if b.desk.State() == opening.Looking {
					b.finish()
				}
				b.want(opening.Whole)
				if p, _ := b.desk.Picture(); b.s.Plan() != before || p.Name() != "ground.png" {
					t.Errorf("%s, then it %s: plan kept %v, shown %s", had, how, b.s.Plan() == before, p.Name())
				}
				last := b.reports[1]
				if back := use == opening.ToNewPlan && had == "a picture"; last.Back != back || last.Bare {
					t.Errorf("%s, then it %s: told that the plan is back %v, want %v; without its picture %v", had, how, last.Back, back, last.Bare)
				}
				if b.s.UndoName() == "" || !b.s.Dirty() {
					t.Errorf("%s, then it %s: undo %q, unsaved %v", had, how, b.s.UndoName(), b.s.Dirty())
				}
				if how == "fails" && (!b.told(opening.Refused) || !errors.Is(b.reports[1].Err, errPulled)) {
					t.Errorf("%s: told %+v, want the refusal", had, b.reports)
				}
				if how == "is cancelled" {
					r.WaitCancelled(t)
				}
			}
		}
	}
}

// A picture that turns out damaged after the person has worked on it goes, and the work
// stays; so does the plan whose own picture is damaged.
func TestDamageTakesThePictureNotThePlan(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.desk.Open(b.picture("big.png", 1))
	r := b.next()
	b.heard("the picture", r.PreviewHashed)
	b.calibrate()
	before := b.s.Plan()
	b.heard("the refusal", func() { r.Fail(errPulled) })
	b.want(opening.Failed)
	if b.s.Plan() != before || b.last().Reason != opening.Removed || b.shown.Picture != nil {
		t.Errorf("plan kept %v, told %v", b.s.Plan() == before, b.last().Reason)
	}
	file := b.dir + "/walk" + planfile.Ext
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	o, err := b.s.Read(file)
	if err != nil {
		t.Fatal(err)
	}
	b.desk.SetReach(planfile.Reach{})
	b.s.Take(o)
	b.want(opening.Looking)
	r = b.next()
	b.heard("the picture", r.PreviewHashed)
	b.want(opening.Usable)
	before = b.s.Plan()
	b.heard("the refusal", func() { r.Fail(errPulled) })
	b.want(opening.Failed)
	if b.s.Plan() != before || b.last().Reason != opening.Removed || b.last().Use != opening.Own {
		t.Errorf("the plan's own: plan kept %v, told %+v", b.s.Plan() == before, b.last())
	}
}

// Whoever cancels an opening after working on its picture keeps the work, also if the
// picture took the place of the demo.
func TestCancelKeepsTheWork(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	demo := *b.s.Plan()
	demo.Sheets = []plan.Sheet{{ID: "s1", Picture: opening.DemoPicture, Width: 80, Height: 60, SHA256: strings.Repeat("0", 64)}}
	if err := b.s.Use(&demo); err != nil {
		t.Fatal(err)
	}
	b.finish()
	b.desk.Open(b.picture("big.png", 1))
	r := b.next()
	b.heard("the picture", r.PreviewHashed)
	b.calibrate()
	before := b.s.Plan()
	b.desk.Cancel()
	r.WaitCancelled(t)
	b.want(opening.Failed)
	if b.s.Plan() != before || b.shown.Picture != nil || b.s.UndoName() == "" {
		t.Errorf("plan kept %v, undo %q", b.s.Plan() == before, b.s.UndoName())
	}
	if got := b.last(); got.Reason != opening.Cancelled || !got.Bare || got.Back {
		t.Errorf("told %+v, want that the plan stays without its picture", got)
	}
}

// Undo and another sheet take the picture away at once, in each state.
func TestThePictureFollowsThePlan(t *testing.T) {
	t.Parallel()
	for name, came := range map[string]func(*bench, *openingtest.Reading){
		"whole":   func(b *bench, r *openingtest.Reading) { b.heard("the end", func() { r.Finish() }) },
		"usable":  func(b *bench, r *openingtest.Reading) { b.heard("the picture", r.PreviewHashed) },
		"preview": func(b *bench, r *openingtest.Reading) { b.heard("the preview", r.Preview) },
	} {
		b := newBench(t)
		first := b.picture("ground.png", 1)
		b.whole(first)
		b.calibrate()
		b.desk.Open(b.picture("other.png", 2))
		b.answer(opening.ToSheet)
		r := b.next()
		came(b, r)
		if !b.s.Undo() {
			t.Fatal("nothing to undo")
		}
		b.check()
		if p, ok := b.desk.Picture(); ok && p.Path != first {
			t.Errorf("%s: after undo %s is shown", name, p.Name())
		}
		if b.desk.State() == opening.Looking {
			b.finish()
		} else if name != "preview" {
			t.Errorf("%s: after undo the desk is %v", name, b.desk.State())
		}
	}
	b := newBench(t)
	b.whole(b.picture("ground.png", 1))
	for b.s.Undo() {
	}
	b.want(opening.Empty)
	b.s.Redo()
	b.want(opening.Looking)
	b.finish()
	b.desk.Open(b.picture("late.png", 3))
	r := b.next()
	b.desk.SetReach(planfile.Reach{})
	b.s.NewPlan()
	b.want(opening.Empty)
	r.WaitCancelled(t)
}

// The picture stays where only its path or its sheet's points change, and an opening
// for the sheet goes on while the person works on what is shown.
func TestWorkOnTheOldPictureGoesOn(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.whole(b.picture("ground.png", 1))
	shown := b.desk.Pyramid()
	b.desk.Add(b.picture("other.png", 2))
	b.want(opening.Looking)
	r := b.next()
	b.calibrate()
	b.want(opening.Looking)
	if b.desk.Pyramid() != shown || r.Cancelled() {
		t.Error("a control point ended the opening of another sheet")
	}
	b.heard("the end", func() { r.Finish() })
	b.want(opening.Whole)
	if len(b.s.Plan().Sheets) != 2 {
		t.Errorf("%d sheets, want 2", len(b.s.Plan().Sheets))
	}
}

func TestTheSheetsFileWithAnotherContentAsks(t *testing.T) {
	t.Parallel()
	otherContentAsks(t, (*bench).calibrate)
	otherContentAsks(t, (*bench).byMatrix)
}

func otherContentAsks(t *testing.T, calibrate func(*bench)) {
	t.Helper()
	for _, agree := range []bool{true, false} {
		for _, first := range []bool{true, false} { // the answer comes before the end
			b := newBench(t)
			path := b.picture("ground.png", 1)
			b.whole(path)
			calibrate(b)
			before := b.s.Plan()
			b.picture("ground.png", 9)
			b.desk.Open(path)
			r := b.next()
			b.heard("the preview", r.Preview)
			b.heard("the question", r.Hash)
			b.want(opening.Asking)
			b.wantQuestion(opening.AnotherPicture)
			if b.shown.Picture != nil {
				t.Error("the other picture is shown while it is asked about")
			}
			end := func() { b.heard("the end", func() { r.Finish() }) }
			if !first {
				end()
				b.want(opening.Asking)
			}
			choice := opening.Decline
			if agree {
				choice = opening.Agree
			}
			b.answer(choice)
			switch sheet, _ := b.s.Sheet(); {
			case agree && first:
				b.want(opening.Usable)
				end()
				b.want(opening.Whole)
			case agree:
				b.want(opening.Whole)
			default:
				b.want(opening.Failed) // its file is the other picture now
				if b.s.Plan() != before || sheet.SHA256 != before.Sheets[0].SHA256 {
					t.Error("declined, and the plan has changed")
				}
			}
			sheet, _ := b.s.Sheet()
			if was := before.Sheets[0]; len(sheet.Points) != len(was.Points) || (sheet.World == nil) != (was.World == nil) {
				t.Errorf("agreed %v: %d control points, matrix %v; want what was there", agree, len(sheet.Points), sheet.World)
			}
		}
	}
}

func TestTheDemoStaysUnlessThePersonAgrees(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	demo := *b.s.Plan()
	demo.Title = "demo"
	demo.Sheets = []plan.Sheet{{ID: "s1", Picture: opening.DemoPicture, Width: 80, Height: 60, SHA256: strings.Repeat("0", 64)}}
	if err := b.s.Use(&demo); err != nil {
		t.Fatal(err)
	}
	b.finish()
	b.desk.Open(b.picture("mine.png", 1))
	r := b.next()
	if err := b.s.SetTitle("changed"); err != nil {
		t.Fatal(err)
	}
	b.heard("the question", r.PreviewHashed)
	b.want(opening.Asking)
	b.wantQuestion(opening.DemoChanged)
	b.answer(opening.Decline)
	b.want(opening.Whole)
	if b.s.Plan().Title != "changed" {
		t.Error("declined, and the changed demo is gone")
	}
	b.desk.Open(b.picture("mine.png", 1))
	b.wantQuestion(opening.DemoChanged)
	b.answer(opening.Agree)
	r = b.next()
	b.heard("the picture", r.PreviewHashed)
	b.want(opening.Usable)
	if b.s.Plan().Title != "" {
		t.Error("the demo's plan goes on with the person's map")
	}
	b.heard("the refusal", func() { r.Fail(errPulled) })
	b.finish()
	if b.s.Plan().Title != "changed" {
		t.Error("the picture failed, and the demo did not come back")
	}
}

func TestNewPlanAsksAboutLaterChanges(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.whole(b.picture("ground.png", 1))
	b.calibrate()
	b.desk.Open(b.picture("other.png", 2))
	b.answer(opening.ToNewPlan)
	r := b.next()
	if err := b.s.SetTitle("later"); err != nil {
		t.Fatal(err)
	}
	b.heard("the question", r.PreviewHashed)
	b.wantQuestion(opening.PlanChanged)
	b.answer(opening.Agree)
	b.want(opening.Usable)
	if p := b.s.Plan(); p.Title != "" || len(p.Sheets) != 1 || len(p.Sheets[0].Points) != 0 {
		t.Errorf("the new plan holds %q and %d sheets", p.Title, len(p.Sheets))
	}
}

func TestOutsideTheFolder(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	path := b.picture("ground.png", 1)
	b.whole(path)
	sheet, _ := b.s.Sheet()
	again := func() {
		p := *b.s.Plan()
		b.desk.SetReach(planfile.Reach{Folder: "/walk", Ask: []string{path}})
		if err := b.s.Use(&p); err != nil {
			t.Fatal(err)
		}
	}
	again()
	b.want(opening.Failed)
	b.wantQuestion(opening.OutsideFolder)
	if !b.desk.Withheld(path) {
		t.Error("it may be touched before the answer")
	}
	b.answer(opening.Decline)
	b.want(opening.Failed)
	if b.last().Reason != opening.Withheld || !b.desk.Withheld(path) {
		t.Errorf("told %v", b.last().Reason)
	}
	if err := b.s.RemoveSheet(sheet.ID); err != nil {
		t.Fatal(err)
	}
	b.want(opening.Empty)
	b.s.Undo()
	b.want(opening.Failed)
	b.wantQuestion(opening.NoQuestion) // once is enough
	again()
	b.answer(opening.Agree)
	b.want(opening.Looking)
	b.finish()
	again()
	b.desk.Find(path) // whoever picks the file himself is not asked
	b.finish()
	if b.desk.Withheld(path) {
		t.Error("a picture that the person chose is withheld")
	}
}

// Answers to questions that were withdrawn do nothing.
func TestStaleAnswers(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.whole(b.picture("ground.png", 1))
	b.calibrate()
	b.desk.Open(b.picture("other.png", 2))
	old := b.asked
	b.desk.Add(b.picture("third.png", 3))
	b.wantQuestion(opening.NoQuestion)
	b.desk.Answer(old, opening.Answer{Choice: opening.ToReplace})
	b.desk.Answer(opening.Question{}, opening.Answer{Choice: opening.Agree})
	b.finish()
	if p, _ := b.desk.Picture(); p.Name() != "third.png" {
		t.Errorf("%s is shown", p.Name())
	}
}

// A large picture is closed before another one is read, and comes back if that fails.
func TestLargePicturesMakeRoom(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.desk.Open(b.picture("large.png", 1))
	r := b.next()
	r.Header.Width, r.Header.Height = 9000, 8000 // 72 MB of grey
	b.heard("the end", func() { r.Finish() })
	b.until("the end", func() bool { return b.desk.State() == opening.Whole })
	large := b.desk.Pyramid()
	b.calibrate()
	b.desk.Add(b.picture("other.png", 2))
	b.want(opening.Looking)
	if b.desk.Pyramid() != nil || b.shown.Picture != nil {
		t.Fatal("the large picture stays in memory while another one is read")
	}
	b.next()
	b.desk.Cancel()
	b.want(opening.Looking)
	r = b.next()
	r.Header.Width, r.Header.Height = 9000, 8000
	b.heard("the end", func() { r.Finish() })
	b.until("the large one again", func() bool { return b.desk.State() == opening.Whole })
	if p, _ := b.desk.Picture(); p.Name() != "large.png" || p.Pyramid == large {
		t.Errorf("%s came back", p.Name())
	}
}

// Who ends the program while a picture is opened leaves none open.
func TestCloseClosesAll(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	b.whole(b.picture("ground.png", 1))
	open := []*pyramid.Pyramid{b.desk.Pyramid()}
	b.desk.Add(b.picture("other.png", 2))
	r := b.next()
	b.heard("the picture", r.PreviewHashed)
	open = append(open, b.desk.Pyramid())
	b.desk.Close()
	for i, p := range open {
		if p.Ready(0) {
			t.Errorf("picture %d is still open", i)
		}
	}
	r.WaitCancelled(t)
}
