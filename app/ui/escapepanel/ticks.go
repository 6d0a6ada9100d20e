package escapepanel

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/escape"
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// Sizes of the look along a leg.
const (
	// tickPx is how long 100 m must be on the screen, device-independent pixels: about
	// 1:10,000.
	tickPx = 40
	// lookPx is how long it is made.
	lookPx = 48
	// sampleM is how far apart the positions are that must have been seen.
	sampleM = 25
)

// ticker leads the eye along each leg of an escape, near enough to see contours and crags,
// and takes the ticks: only for a leg all of which was seen at that scale.
type ticker struct {
	p      *Panel
	body   *fyne.Container
	say    *widgets.Sentence
	boxes  [4]*widgets.Check
	of     plan.ID // the escape; "" for none
	leg    int     // from 0
	print  string  // what is ticked: another one has not been seen
	way    []view.PicPt
	seen   []bool
	on     bool
	filled bool
	onto   bool // the next leg to tick is shown once the escapes are judged
}

func newTicker(p *Panel) *ticker {
	n := p.n
	t := &ticker{p: p, say: widgets.NewSentence("", widgets.Note)}
	var boxes []fyne.CanvasObject
	for i, text := range []string{"contours", "crags", "water", "end feature"} {
		t.boxes[i] = widgets.NewCheck(text, func(bool) { t.ticked() }, n.View.Focus, n.View.Focus)
		boxes = append(boxes, t.boxes[i])
	}
	t.body = container.NewVBox(t.say, container.NewGridWithColumns(2, boxes...), container.NewHBox(
		button(n, "", "Show next part", "Bring the next part of the leg into view", t.nextPart),
		button(n, "", "Next leg", "Go to the next leg", func() { t.goTo(t.leg + 1) }),
		button(n, "", "Done", "Stop ticking  (Esc)", t.stop)))
	t.body.Hide()
	n.View.OnViewChanged(t.looked)
	return t
}

// start begins with the first leg of the selected escape that is not ticked.
func (t *ticker) start() {
	e, ok := t.p.n.Session.Escapes().ByID(t.p.n.Session.Selection().ID)
	if !ok {
		t.p.n.Foot.Say("Select an escape first: click it on the sheet or in the ledger.")
		return
	}
	if e.Waits {
		t.p.n.Foot.Say("The escape is not judged yet. Try again in a moment.")
		return
	}
	t.on, t.of, t.onto = true, e.ID, false
	first := 0
	for i, l := range e.Legs {
		if !l.Ticks.All() {
			first = i
			break
		}
	}
	t.goTo(first)
}

// stop ends it, and reports whether it was on.
func (t *ticker) stop() {
	t.on, t.of = false, ""
	t.p.slips.redraw()
	t.body.Hide()
	t.p.ShowHint()
}

// goTo brings a leg into view, the first after the last one.
func (t *ticker) goTo(leg int) {
	e, ok := t.p.n.Session.Escapes().ByID(t.of)
	if !ok || len(e.Legs) == 0 {
		t.stop()
		return
	}
	if e.Waits {
		return
	}
	t.leg, t.print = leg%len(e.Legs), ""
	t.p.slips.redraw()
	t.follow(t.p.n.Session.Escapes())
	t.nextPart()
	t.p.ShowHint()
}

// follow shows the leg as it is now. What changed has not been seen. Until the escape is
// judged nobody knows what changed: ticks go to the leg as it was seen, and count if it still is.
func (t *ticker) follow(j escape.Judged) {
	e, ok := j.ByID(t.of)
	if !ok || !t.on || t.leg >= len(e.Legs) || t.p.n.Session.Selection().ID != t.of {
		t.on, t.of = false, ""
		t.body.Hide()
		return
	}
	if e.Waits {
		return
	}
	if t.onto {
		t.onward()
		return
	}
	l := e.Legs[t.leg]
	if l.Of != t.print || l.Of == "" {
		t.print, t.way = l.Of, t.samples(l)
		t.seen = make([]bool, len(t.way))
		t.look()
	}
	t.filled = true
	for i, on := range []bool{l.Ticks.Contours, l.Ticks.Crags, l.Ticks.Water, l.Ticks.End} {
		t.boxes[i].SetChecked(on)
	}
	t.filled = false
	t.body.Show()
	t.allow()
}

// samples are positions along a leg on the sheet shown, none where it does not lie on it.
func (t *ticker) samples(l escape.Leg) (out []view.PicPt) {
	c, err := t.p.n.Session.Calibration()
	if err != nil || l.Err != nil {
		return nil
	}
	for i := 1; i < len(l.Way); i++ {
		a, b := l.Way[i-1], l.Way[i]
		n := int(math.Ceil(math.Hypot(b.E-a.E, b.N-a.N)/sampleM)) + 1
		for k := range n + 1 {
			g := a
			g.E, g.N = a.E+(b.E-a.E)*float64(k)/float64(n), a.N+(b.N-a.N)*float64(k)/float64(n)
			out = append(out, sheetview.ViewPt(c.ToPicture(g)))
		}
	}
	return out
}

// hundredPx is how long 100 m are on the screen, device-independent pixels.
func (t *ticker) hundredPx() float64 {
	c, err := t.p.n.Session.Calibration()
	if err != nil {
		return 0
	}
	return 100 / c.MetresPerPixel() * t.p.n.View.Area().View().Scale() / t.density()
}

// density is how many pixels of the screen a device-independent one has.
func (t *ticker) density() float64 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(t.p.n.View.Area()); c != nil {
		return float64(c.Scale())
	}
	return 1
}

// looked notes after each move of the sheet what of the leg is seen.
func (t *ticker) looked() {
	if t.on {
		t.look()
		t.allow()
	}
}

func (t *ticker) look() {
	if t.hundredPx() < tickPx {
		return
	}
	for i, at := range t.way {
		t.seen[i] = t.seen[i] || t.p.n.View.InView(at)
	}
}

// unseen is the first sample that has not been seen, −1 for none.
func (t *ticker) unseen() int {
	for i, on := range t.seen {
		if !on {
			return i
		}
	}
	return -1
}

// nextPart shows what has not been seen yet, near enough.
func (t *ticker) nextPart() {
	if i := max(t.unseen(), 0); i < len(t.way) {
		area := t.p.n.View.Area()
		times := lookPx / math.Max(t.hundredPx(), 1e-9)
		if times < 1 && t.hundredPx() >= tickPx {
			times = 1
		}
		v := area.View()
		area.SetView(v.ScaledTo(v.Scale()*times, t.way[i], v.Middle()))
	}
	t.looked()
}

// allow lets boxes be ticked while the scale is met and all of the leg has been seen.
func (t *ticker) allow() {
	near := t.hundredPx() >= tickPx
	may := near && t.unseen() < 0 && len(t.way) > 0
	for _, b := range t.boxes {
		if may {
			b.Enable()
		} else {
			b.Disable()
		}
	}
	t.say.Set(t.words(near), widgets.Note)
}

func (t *ticker) words(near bool) string {
	e, _ := t.p.n.Session.Escapes().ByID(t.of)
	what := fmt.Sprintf("Leg %d of %d of %s.", t.leg+1, len(e.Legs), e.Name)
	switch {
	case len(t.way) == 0:
		return what + " This leg cannot be shown on this sheet."
	case !near:
		return what + " Zoom in until 100 m is about 1 cm on the screen, or press Show next part."
	case t.unseen() >= 0:
		return what + " Look along the whole leg before you tick: press Show next part."
	}
	return what + " Tick what you have looked at on the map along this leg."
}

// next is what to do, in a sentence.
func (t *ticker) next() string {
	return "Look at the contours, crags, water and end feature along the leg. Until all legs are ticked, the escape is a DRAFT."
}

// ticked keeps the ticks as they stand, and after the last one goes on to the next leg.
func (t *ticker) ticked() {
	if t.filled || !t.on {
		return
	}
	b := t.boxes
	ticks := plan.Ticks{Contours: b[0].Checked, Crags: b[1].Checked, Water: b[2].Checked, End: b[3].Checked, Of: t.print}
	if t.p.n.Foot.Try(t.p.n.Session.TickEscape(t.of, t.leg, ticks), "Ticked.") && ticks.All() {
		t.onward()
	}
}

// onward goes to the next leg that is not ticked, or ends, as soon as that is judged.
func (t *ticker) onward() {
	e, _ := t.p.n.Session.Escapes().ByID(t.of)
	if t.onto = e.Waits; t.onto {
		return
	}
	for i, l := range e.Legs {
		if !l.Ticks.All() {
			t.goTo(i)
			return
		}
	}
	t.stop()
	t.p.n.Foot.Say(e.Name + " is ticked. It becomes a DRAFT again if anything about it changes.")
}
