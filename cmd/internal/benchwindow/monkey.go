package main

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/canvas/pyramid"
)

// monkey works the bench at random over several sheets and watches what must
// stay: the plan's things as they were, tiles within their budget. Some of
// the sheets may be broken or not there at all.
type monkey struct {
	walker
	sheets []string
	base   *plan.Plan // the demo's plan without its sheet, of which nothing but the sheet may change
	opens  int
	v      verdict
	began  time.Time
	told   time.Time // of the latest sample
}

// verdict is what a run came to.
type verdict struct {
	Name  string
	Seed  uint64
	Acts  map[string]int // how often each was done
	Shown map[string]int // how often each sheet was seen open
	Wrong []string       // what was not as it must be
}

func newMonkey(b *ui.Bench, o options) *monkey {
	m := &monkey{
		walker: walker{b: b, dice: rand.New(rand.NewPCG(o.seed, 11))},
		sheets: o.sheets, began: time.Now(),
		v: verdict{Name: "monkey", Seed: o.seed, Acts: map[string]int{}, Shown: map[string]int{}},
	}
	// A picture opened over the demo begins a new plan; over a plan without a
	// sheet it leaves everything else alone, and that is what is watched.
	fyne.DoAndWait(func() {
		m.base = b.Session().Plan()
		if sheet, ok := m.base.Sheet(); ok {
			m.base = m.base.RemoveSheet(sheet.ID)
		}
		if err := b.Session().Use(m.base); err != nil {
			fail(err)
		}
	})
	return m
}

// act is one thing to do, as often as its weight says. It runs off the main
// thread.
type act struct {
	name   string
	weight int
	do     func()
}

func (m *monkey) acts() []act {
	sheet := m.b.Sheet()
	onMain := func(f func()) func() { return func() { fyne.DoAndWait(f) } }
	return []act{
		{"glide", 10, func() {
			dx, dy := 80*(m.dice.Float64()-0.5), 80*(m.dice.Float64()-0.5)
			m.step(5+m.dice.IntN(40), func() { sheet.PanBy(dx, dy) })
		}},
		{"wheel", 10, func() {
			dy := []float32{25, -25, 75, -75}[m.dice.IntN(4)]
			pos := m.place()
			m.step(1+m.dice.IntN(12), func() { wheel(m.b, pos, dy) })
		}},
		{"turn", 3, onMain(func() { sheet.RotateTo(6.3 * (m.dice.Float64() - 0.5)) })},
		{"upright", 3, onMain(func() { sheet.RotateTo(0) })},
		{"fit", 2, onMain(sheet.Fit)},
		{"pixel for pixel", 3, onMain(func() { sheet.CenterOn(m.spot()); sheet.OneToOne() })},
		{"keys", 3, onMain(m.keys)},
		{"drag and let go", 4, m.dragAndLetGo},
		{"look", 3, onMain(m.look)},
		{"open", 7, m.open},
		{"open and give up", 3, m.openAndGiveUp},
		{"close", 1, m.close},
		{"wait", 2, func() { time.Sleep(time.Duration(m.dice.IntN(1500)) * time.Millisecond) }},
	}
}

// run acts until the time is over and prints samples and the verdict.
func (m *monkey) run(long time.Duration) {
	acts := m.acts()
	var bag []int
	for i, a := range acts {
		for range a.weight {
			bag = append(bag, i)
		}
	}
	m.openFirst()
	m.began = time.Now()
	for time.Since(m.began) < long {
		a := acts[bag[m.dice.IntN(len(bag))]]
		a.do()
		fyne.DoAndWait(func() { m.after(a.name) })
	}
	m.settle()
	fyne.DoAndWait(func() { tell(takeSample(m.b, "settled", time.Since(m.began).Seconds())) })
	tell(m.v)
}

// openFirst opens the first sheet and waits for it, so that every run has it.
func (m *monkey) openFirst() {
	fyne.DoAndWait(func() { m.b.Dismiss(); m.b.Open(m.nextSheet()) })
	m.waitOpened()
	fyne.DoAndWait(func() { m.after("open") })
}

// waitOpened waits until nothing is being opened and the sheet is sharp.
func (m *monkey) waitOpened() {
	for range 600 {
		time.Sleep(100 * time.Millisecond)
		opening := false
		fyne.DoAndWait(func() { m.b.Dismiss(); opening = m.b.Opening() })
		if !opening {
			break
		}
	}
	waitSharp(m.b)
}

// after looks at what an act has left behind.
func (m *monkey) after(act string) {
	m.b.Dismiss()
	m.v.Acts[act]++
	m.v.Shown[filepath.Base(m.b.Session().PicturePath())]++
	m.v.note(act, m.check())
	if time.Since(m.told) > 500*time.Millisecond {
		m.told = time.Now()
		tell(takeSample(m.b, "acting", time.Since(m.began).Seconds()))
	}
}

// note keeps what was wrong, each thing once.
func (v *verdict) note(after, wrong string) {
	if wrong == "" || len(v.Wrong) >= 20 {
		return
	}
	if text := fmt.Sprintf("after %q: %s", after, wrong); !slices.Contains(v.Wrong, text) {
		v.Wrong = append(v.Wrong, text)
	}
}

// settle gives up what is under way, opens the first sheet and rests.
func (m *monkey) settle() {
	fyne.DoAndWait(func() { m.b.GiveUp(); m.b.Dismiss(); m.b.Open(m.sheets[0]) })
	m.waitOpened()
	time.Sleep(5 * time.Second)
}

// check says what is not as it must be, or nothing.
func (m *monkey) check() string {
	p := m.b.Session().Plan()
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"title", p.Title, m.base.Title},
		{"date", p.Date, m.base.Date},
		{"marks", p.Marks, m.base.Marks},
		{"legs", p.Legs, m.base.Legs},
		{"sights", p.Sights, m.base.Sights},
		{"party", p.Party, m.base.Party},
	} {
		if !reflect.DeepEqual(c.got, c.want) {
			return fmt.Sprintf("the plan's %s changed: %v, want %v", c.what, c.got, c.want)
		}
	}
	pyr := m.b.Pyramid()
	if pyr == nil {
		return ""
	}
	if s := pyr.Stats(); s.TileBytes+s.PlaneBytes+s.ReservedBytes > s.Budget+s.Budget/16 {
		return fmt.Sprintf("tiles take %d, planes %d and reserved %d bytes of %d", s.TileBytes, s.PlaneBytes, s.ReservedBytes, s.Budget)
	}
	return ""
}

func (m *monkey) keys() {
	for range 1 + m.dice.IntN(6) {
		name := []fyne.KeyName{
			fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyHome, fyne.KeyPageUp, fyne.KeyPageDown,
		}[m.dice.IntN(7)]
		m.b.Sheet().TypedKey(&fyne.KeyEvent{Name: name})
	}
	m.b.Sheet().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
}

// dragAndLetGo drags a bearing and cancels it before it can be kept.
func (m *monkey) dragAndLetGo() {
	from, to := m.place(), m.place()
	fyne.DoAndWait(func() {
		m.b.Sheet().MouseDown(&desktop.MouseEvent{PointEvent: at(m.b, from), Button: desktop.MouseButtonPrimary})
	})
	for i := range 20 {
		f := float32(i+1) / 20
		next := fyne.NewPos(from.X+f*(to.X-from.X), from.Y+f*(to.Y-from.Y))
		m.step(1, func() { m.b.Sheet().Dragged(&fyne.DragEvent{PointEvent: at(m.b, next)}) })
	}
	fyne.DoAndWait(func() {
		m.b.Sheet().Cancel()
		m.b.Sheet().MouseUp(&desktop.MouseEvent{PointEvent: at(m.b, to), Button: desktop.MouseButtonPrimary})
	})
}

func (m *monkey) look() {
	if p := m.b.Pyramid(); p != nil {
		p.SetLook(pyramid.Look{
			Contrast: 2*m.dice.Float64() - 1, Fade: m.dice.Float64(), Invert: m.dice.IntN(2) == 0,
		})
	}
}

// nextSheet goes round the sheets.
func (m *monkey) nextSheet() string {
	m.opens++
	return m.sheets[(m.opens-1)%len(m.sheets)]
}

func (m *monkey) open() {
	path := m.nextSheet()
	fyne.DoAndWait(func() { m.b.Open(path) })
	time.Sleep(time.Duration(m.dice.IntN(2500)) * time.Millisecond)
}

// openAndGiveUp begins an opening and takes it back: the plan is the one from
// before.
func (m *monkey) openAndGiveUp() {
	path := m.nextSheet()
	var before *plan.Plan
	fyne.DoAndWait(func() { m.b.GiveUp(); before = m.b.Session().Plan(); m.b.Open(path) })
	time.Sleep(time.Duration(m.dice.IntN(800)) * time.Millisecond)
	fyne.DoAndWait(func() {
		if !m.b.Opening() {
			return // it came through
		}
		m.b.GiveUp()
		if now := m.b.Session().Plan(); !reflect.DeepEqual(now.Sheets, before.Sheets) {
			m.v.note("open and give up", fmt.Sprintf("the sheets are %v, want those from before, %v", now.Sheets, before.Sheets))
		}
	})
}

// close puts an empty plan on the bench, and the demo's plan on it again.
func (m *monkey) close() {
	fyne.DoAndWait(m.b.CloseSheet)
	time.Sleep(time.Duration(m.dice.IntN(400)) * time.Millisecond)
	fyne.DoAndWait(func() {
		m.b.GiveUp()
		if err := m.b.Session().Use(m.base); err != nil {
			fail(err)
		}
	})
}
