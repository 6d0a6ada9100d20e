package ui

import (
	"encoding/json"
	"maps"
	"os"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"legwright/canvas/view"
	"legwright/mapio/planfile"
)

// probe tells an automated test about the bench: it writes a file, named by
// the environment, shortly after each change. Without the variable it does
// nothing.
type probe struct {
	b       *Bench
	file    string
	pending bool
	plans   *os.File  // see note; nil if it could not be made
	noted   planState // the latest
}

// probeEnv names the file the probe writes.
const probeEnv = "LEGWRIGHT_PROBE"

// probeRect is a rectangle of the window in physical pixels.
type probeRect struct{ X, Y, W, H float64 }

// probeState is the probe's file.
type probeState struct {
	Scale    float64
	Sheet    *probeRect
	View     [6]float64
	Sharp    bool
	Controls map[string]probeRect
	Title    string
	Legs     int
	Points   int
	Hint     string
	Message  string
	Dirty    bool
	Unsafe   bool // a crash would lose unsaved work
	Asked    bool // the question about unsaved work is open
}

// planState is a line of the file of plans.
type planState struct {
	At          time.Time
	Step        string
	Path        string // the plan's file
	Dirty, Drag bool   // a drag is under way, which is one act
	Plan        string // as in a plan file
}

func newProbe(b *Bench) *probe {
	file := os.Getenv(probeEnv)
	if file == "" {
		return nil
	}
	p := &probe{b: b, file: file}
	p.plans, _ = os.Create(file + ".plans")
	go func() {
		for range time.Tick(200 * time.Millisecond) { // sharpness comes without an event
			p.b.program.later(p.write)
		}
	}()
	return p
}

// touch writes the file once the present events are done.
func (p *probe) touch() {
	if p == nil || p.pending {
		return
	}
	p.pending = true
	time.AfterFunc(30*time.Millisecond, func() { p.b.program.later(p.write) })
}

// note appends the current plan to a file beside the probe's, at once: a test that
// kills the bench compares the restored plan with it.
func (p *probe) note(step string) {
	if p == nil || p.plans == nil {
		return
	}
	var text strings.Builder
	if err := planfile.Encode(&text, p.b.s.Plan()); err != nil {
		return
	}
	now := planState{Path: p.b.s.Path(), Dirty: p.b.s.Dirty(), Drag: p.b.view.Dragging(), Plan: text.String()}
	if now == p.noted {
		return
	}
	p.noted = now
	now.At, now.Step = time.Now(), step
	_ = json.NewEncoder(p.plans).Encode(now) // a test without it fails
}

func (p *probe) write() {
	p.pending = false
	raw, err := json.Marshal(p.state())
	if err != nil {
		return
	}
	tmp := p.file + ".new"
	if os.WriteFile(tmp, raw, 0o644) == nil {
		_ = os.Rename(tmp, p.file)
	}
}

func (p *probe) state() probeState {
	b := p.b
	sheetAt := p.rect(b.view.Area())
	s := probeState{
		Scale: float64(b.window.Canvas().Scale()), Sheet: &sheetAt,
		Title: b.window.Title(), Legs: len(b.s.Plan().Legs), Message: b.foot.Message(), Dirty: b.s.Dirty(), Unsafe: b.frame.crash.Visible(), Asked: b.files.Saver.Asking(),
		Hint: b.sheetP.Hint(), Controls: map[string]probeRect{},
	}
	if sheet, ok := b.s.Sheet(); ok {
		s.Points = len(sheet.Points)
	}
	if b.desk.Pyramid() != nil {
		s.Sharp = b.view.Area().Missing() == 0
		v := b.view.Area().View()
		o, x, y := v.ToScreen(view.PicPt{}), v.ToScreen(view.PicPt{X: 1}), v.ToScreen(view.PicPt{Y: 1})
		s.View = [6]float64{x.X - o.X, y.X - o.X, o.X, x.Y - o.Y, y.Y - o.Y, o.Y}
	}
	for name, o := range p.controls() {
		if o != nil && o.Visible() {
			s.Controls[name] = p.rect(o)
		}
	}
	return s
}

// controls names what a test works with the mouse.
func (p *probe) controls() map[string]fyne.CanvasObject {
	b := p.b
	list := map[string]fyne.CanvasObject{
		"panel sheet": b.frame.panel.tools[panelSheet], "panel route": b.frame.panel.tools[panelRoute],
		"ledger": b.ledger, "dial": b.frame.dial,
		"restore": b.files.Recovery.Button(),
	}
	maps.Copy(list, b.route.Controls())
	maps.Copy(list, b.sheetP.Controls())
	if strip := b.view.Strip(); strip.Visible() { // what stands in a hidden thing does not know it
		answers := strip.Answers()
		list["keep as leg"], list["keep as sight"], list["discard"] = answers[0], answers[1], answers[2]
		if answers[3].Visible() {
			list["keep as escape"] = answers[3]
		}
	}
	if b.frame.welcome.body.Visible() {
		list["welcome begin"] = b.frame.welcome.begin
	}
	return list
}

func (p *probe) rect(o fyne.CanvasObject) probeRect {
	s := float64(p.b.window.Canvas().Scale())
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	return probeRect{float64(at.X) * s, float64(at.Y) * s, float64(size.Width) * s, float64(size.Height) * s}
}
