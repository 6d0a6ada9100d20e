package opening_test

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/ui/opening"
	"legwright/app/ui/opening/openingtest"
	"legwright/canvas/pyramid"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// table is the table of transitions in the package's comment, and what of it was met.
type table struct {
	t    *testing.T
	rows []row
	met  map[string]bool // what, from; what, to
}

type row struct {
	what     string
	from, to []string
}

// documented reads the table.
func documented(t *testing.T) *table {
	t.Helper()
	raw, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(raw), "//\twhat     from")
	tab := &table{t: t, met: map[string]bool{}}
	for _, line := range strings.Split(text, "\n")[1:] {
		line, ok := strings.CutPrefix(line, "//\t")
		if !ok {
			break
		}
		from, to := strings.Fields(line[9:43]), strings.Fields(line[43:])
		if slices.Equal(from, []string{"any"}) {
			from = nil
		}
		tab.rows = append(tab.rows, row{strings.TrimSpace(line[:9]), lower(from), lower(to)})
	}
	if len(tab.rows) < 10 {
		t.Fatalf("%d rows in the table of doc.go", len(tab.rows))
	}
	return tab
}

func lower(names []string) []string {
	for i, n := range names {
		names[i] = strings.ToLower(n)
	}
	return names
}

// step notes a step, which must be in the table.
func (tab *table) step(what string, from, to opening.State) {
	tab.t.Helper()
	for _, r := range tab.rows {
		if r.what == what && (r.from == nil || slices.Contains(r.from, from.String())) && slices.Contains(r.to, to.String()) {
			tab.met[fmt.Sprint(what, " from ", from)] = true
			tab.met[fmt.Sprint(what, " to ", to)] = true
			return
		}
	}
	tab.t.Fatalf("%s leads from %v to %v, which the table in doc.go does not have", what, from, to)
}

// complete fails for what was not met.
func (tab *table) complete() {
	tab.t.Helper()
	for _, r := range tab.rows {
		for _, f := range r.from {
			if !tab.met[r.what+" from "+f] {
				tab.t.Errorf("%s from %s was never met", r.what, f)
			}
		}
		for _, to := range r.to {
			if !tab.met[r.what+" to "+to] {
				tab.t.Errorf("%s to %s was never met", r.what, to)
			}
		}
	}
}

// player makes random acts on a bench.
type player struct {
	*bench
	tab   *table
	rnd   *rand.Rand
	files []string
	read  *openingtest.Reading // under way, or nil
}

// act does something in one step, and takes the reading that it begins.
func (p *player) act(what string, do func()) {
	p.t.Helper()
	from, job := p.desk.State(), p.jobNow()
	do()
	p.check()
	if to := p.desk.State(); to != from || p.jobNow() != job {
		p.tab.step(what, from, to)
	}
	p.follow(job)
}

// goOn lets a reading go on until the desk has told the window of it.
func (p *player) goOn(what string, do func()) {
	p.t.Helper()
	job := p.jobNow()
	p.stepped = func(from, to opening.State) {
		step := what
		if to == opening.Preview {
			step = "preview"
		} else if (from == opening.Looking || from == opening.Preview) && (to == opening.Usable || to == opening.Asking) {
			step = "picture"
		}
		p.tab.step(step, from, to)
	}
	p.heard(what, do)
	if what == "ends" || what == "fails" {
		from := p.desk.State()
		p.until("the end of the reading", func() bool { return p.jobNow() != job })
		if from == opening.Asking && p.desk.State() == from {
			p.tab.step(what, from, from)
		}
	}
	p.stepped = nil
	p.follow(job)
}

// follow takes the reading of another job than before.
func (p *player) follow(job time.Time) {
	if p.jobNow() != job {
		p.read = nil
	}
	if p.desk.State() == opening.Looking && p.read == nil {
		p.read = p.reads.Next(p.t)
	}
}

// jobNow tells jobs apart.
func (p *player) jobNow() time.Time {
	j, _ := p.desk.Job()
	return j.Begun
}

// reading goes on with the reading under way.
func (p *player) reading() {
	p.t.Helper()
	r, from := p.read, p.desk.State()
	if r == nil {
		return
	}
	pick := p.rnd.IntN(10)
	switch {
	case pick < 2:
		p.goOn("fails", func() { r.Fail(errPulled) })
	case pick < 5 && from != opening.Preview: // the hash comes before the end
		p.goOn("ends", func() { r.Finish() })
	case from == opening.Looking && pick < 8:
		p.goOn("preview", r.Preview)
	case from == opening.Looking:
		p.goOn("picture", r.PreviewHashed)
	case from == opening.Preview:
		p.goOn("picture", r.Hash)
	}
}

// plan changes which sheet is in hand, or the plan.
func (p *player) plan() {
	switch p.rnd.IntN(6) {
	case 0:
		p.s.Undo()
	case 1:
		p.s.Redo()
	case 2:
		if sheets := p.s.Plan().Sheets; len(sheets) > 0 {
			_ = p.s.ShowSheet(sheets[p.rnd.IntN(len(sheets))].ID)
		}
	case 3:
		if sheet, ok := p.s.Sheet(); ok && p.rnd.IntN(3) == 0 {
			_ = p.s.RemoveSheet(sheet.ID)
		}
	case 4:
		if p.rnd.IntN(4) == 0 {
			p.desk.SetReach(planfile.Reach{})
			p.s.NewPlan()
		}
	case 5:
		p.withhold()
	}
}

// withhold opens the plan again as somebody else's, whose pictures lie outside.
func (p *player) withhold() {
	now := *p.s.Plan()
	if len(now.Sheets) == 0 || p.rnd.IntN(4) > 0 {
		return
	}
	var ask []string
	for _, s := range now.Sheets {
		ask = append(ask, s.Picture)
	}
	p.desk.SetReach(planfile.Reach{Folder: "/elsewhere", Ask: ask})
	_ = p.s.Use(&now)
}

// work changes the plan, but not which picture belongs to it.
func (p *player) work() {
	if sheet, ok := p.s.Sheet(); ok && len(sheet.Points) == 0 && p.desk.Pyramid() != nil {
		p.calibrate()
		return
	}
	_ = p.s.SetTitle(fmt.Sprint(p.rnd.IntN(1000)))
}

// respond answers the question that waits.
func (p *player) respond() {
	if p.asked.Kind == opening.NoQuestion {
		return
	}
	choices := map[opening.Kind][]opening.Choice{
		opening.WhichSheet: {opening.Decline, opening.ToReplace, opening.ToSheet, opening.ToNewPlan},
	}[p.asked.Kind]
	if choices == nil {
		choices = []opening.Choice{opening.Decline, opening.Agree}
	}
	c := choices[p.rnd.IntN(len(choices))]
	what := "start"
	if p.desk.State() == opening.Asking {
		what = map[bool]string{true: "agree", false: "decline"}[c != opening.Decline]
	}
	p.act(what, func() { p.answer(c) })
}

// open wants a picture.
func (p *player) open() {
	path := p.files[p.rnd.IntN(len(p.files))]
	switch p.rnd.IntN(8) {
	case 0:
		p.act("start", func() { p.desk.Add(path) })
	case 1:
		if sheet, ok := p.s.Sheet(); ok {
			p.act("start", func() { p.desk.Find(sheet.Picture) })
		}
	case 2, 3: // the file becomes another picture
		if i := p.rnd.IntN(len(p.files)); p.read == nil {
			openingtest.Picture(p.t, p.dir, fmt.Sprintf("%d.png", i), uint8(p.rnd.IntN(200)))
		}
	default:
		what := "start"
		if p.desk.State() == opening.Asking {
			what = "decline"
		}
		p.act(what, func() { p.desk.Open(path) })
	}
}

// TestRandomSequences plays at random, and checks every step against the table and
// against what must hold of desk, window and plan.
func TestRandomSequences(t *testing.T) {
	t.Parallel()
	tab := documented(t)
	rounds := 80
	for seed := range rounds {
		b := newBench(t)
		p := &player{bench: b, tab: tab, rnd: rand.New(rand.NewPCG(uint64(seed), 14))}
		for i := range 2 {
			p.files = append(p.files, b.picture(fmt.Sprintf("%d.png", i), uint8(i)))
		}
		for range 120 {
			switch p.rnd.IntN(10) {
			case 0, 1:
				p.open()
			case 2:
				p.respond()
			case 3:
				p.act("plan", p.plan)
			case 4:
				if p.rnd.IntN(2) == 0 {
					p.act("cancel", func() { p.desk.Cancel() })
				}
			case 5:
				if from := p.desk.State(); p.rnd.IntN(2) == 0 {
					p.work()
					if p.desk.State() != from {
						t.Fatalf("work led from %v to %v", from, p.desk.State())
					}
				}
			default:
				p.reading()
			}
		}
		b.desk.Close()
	}
	storeSteps(t, tab)
	tab.complete()
}

// storeSteps makes the steps that need a store.
func storeSteps(t *testing.T, tab *table) {
	t.Helper()
	dir := t.TempDir()
	store, err := pyramid.OpenStore(dir, 0, pyramid.Owner{})
	if err != nil {
		t.Fatal(err)
	}
	on := func(what string) (*bench, *opening.Source) {
		from := &opening.Source{Opener: scan.NewOpener(), Store: store}
		b := benchOn(t, from)
		b.stepped = func(from, to opening.State) {
			if from == opening.Usable && to != opening.Whole || from == opening.Asking || from == opening.Looking && (to == opening.Copy || to == opening.Failed) {
				tab.step(what, from, to)
			}
		}
		return b, from
	}
	take := func(b *bench, file string) {
		t.Helper()
		o, err := b.s.Read(file)
		if err != nil {
			t.Fatal(err)
		}
		b.desk.SetReach(planfile.Reach{})
		b.s.Take(o)
		b.want(opening.Looking)
	}
	b, _ := on("ends")
	path := b.picture("ground.png", 1)
	stored(b, path)
	b.calibrate()
	file := filepath.Join(b.dir, "walk"+planfile.Ext)
	if err := b.s.SaveAs(file); err != nil {
		t.Fatal(err)
	}
	key := marked(t, store, path, nil)

	b, _ = on("stale") // what the store shows is not what the file holds: it is read afresh
	marked(t, store, b.picture("other.png", 2), &key)
	b.desk.Open(filepath.Join(b.dir, "other.png"))
	b.until("the end", func() bool { return b.desk.State() == opening.Whole })
	if now, _ := b.s.Sheet(); now.SHA256 == fmt.Sprintf("%x", key) {
		t.Error("the sheet has the hash of what the store held")
	}
	b.calibrate()
	openingtest.Picture(t, b.dir, "other.png", 3) // the sheet's file is a third picture now, and the store shows the first
	marked(t, store, filepath.Join(b.dir, "other.png"), &key)
	b.desk.Open(filepath.Join(b.dir, "other.png"))
	b.until("the second question", func() bool {
		_, under := b.desk.Job()
		return b.desk.State() == opening.Asking && !under
	})

	b, from := on("fails") // the file can be found, but not read to its end
	from.OnDrive(func(fsys fs.FS) fs.FS { return &failingDrive{fsys, 2} })
	take(b, file)
	b.until("the copy", func() bool { return b.desk.State() == opening.Copy })
	if p, _ := b.desk.Picture(); !p.Copy || b.last().Reason != opening.CopyShown {
		t.Errorf("marked as a copy %v, told %v", p.Copy, b.last().Reason)
	}

	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	b, _ = on("missing")
	take(b, file)
	b.until("the copy", func() bool { return b.asked.Kind == opening.Missing })
	if p, _ := b.desk.Picture(); !p.Copy || !b.asked.Copy {
		t.Error("the copy is not marked")
	}
	b = benchOn(t, &opening.Source{Opener: scan.NewOpener()})
	take(b, file)
	b.until("the question", func() bool { return b.asked.Kind == opening.Missing })
	tab.step("missing", opening.Looking, b.desk.State())
}

// marked lets the store take a file for the picture of a key, and returns the key that
// it knew the file by.
func marked(t *testing.T, store *pyramid.Store, path string, key *[32]byte) [32]byte {
	t.Helper()
	mark, err := scan.Mark(os.DirFS(filepath.Dir(path)), filepath.Base(path))
	if err != nil {
		t.Fatal(err)
	}
	if key != nil {
		store.Note(mark, *key)
	}
	known, _, _ := store.Find(mark)
	return known
}

// failingDrive opens a file so many times and fails then.
type failingDrive struct {
	fs.FS
	good int
}

func (d *failingDrive) Open(name string) (fs.File, error) {
	if d.good--; d.good < 0 {
		return nil, errPulled
	}
	return d.FS.Open(name)
}

// stored opens a picture and waits until the store has it.
func stored(b *bench, path string) {
	b.t.Helper()
	b.desk.Open(path)
	b.until("the end", func() bool { return b.desk.State() == opening.Whole })
	limit := time.After(openingtest.Patience)
	for !b.desk.Pyramid().Stats().Stored {
		select {
		case <-time.After(time.Millisecond):
		case <-limit:
			b.t.Fatal("it was not stored")
		}
	}
}
