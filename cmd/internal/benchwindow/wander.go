package main

import (
	"math/rand/v2"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/ui"
	"legwright/canvas/view"
)

// rest is how long the bench is left alone before its settled memory is read.
const rest = 15 * time.Second

// wander moves over the sheet as a person does who looks for something, says
// each second what memory it takes, and last of all what it settles to.
func wander(b *ui.Bench, long time.Duration, seed uint64) {
	w := &walker{b: b, dice: rand.New(rand.NewPCG(seed, 7))}
	began := time.Now()
	stop := make(chan struct{})
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for tick := time.NewTicker(time.Second); ; {
			select {
			case <-tick.C:
				fyne.DoAndWait(func() { tell(takeSample(b, "moving", time.Since(began).Seconds())) })
			case <-stop:
				return
			}
		}
	}()
	for time.Since(began) < long {
		w.move()
	}
	close(stop)
	<-ended
	time.Sleep(rest)
	fyne.DoAndWait(func() { tell(takeSample(b, "settled", time.Since(began).Seconds())) })
}

// walker makes moves of a second or so.
type walker struct {
	b    *ui.Bench
	dice *rand.Rand
}

// step runs f once a frame, n times.
func (w *walker) step(n int, f func()) {
	for range n {
		fyne.DoAndWait(f)
		time.Sleep(time.Second / 60)
	}
}

// move makes one of the moves.
func (w *walker) move() {
	m := w.b.Sheet()
	switch w.dice.IntN(8) {
	case 0, 1, 2: // a glide
		dx, dy := 40*(w.dice.Float64()-0.5), 40*(w.dice.Float64()-0.5)
		w.step(60, func() { m.PanBy(dx, dy) })
	case 3: // nearer or farther at some place
		dy := []float32{25, -25}[w.dice.IntN(2)]
		pos := w.place()
		w.step(3+w.dice.IntN(8), func() { wheel(w.b, pos, dy) })
	case 4:
		w.step(1, func() { m.CenterOn(w.spot()); m.OneToOne() })
	case 5:
		at, side := w.spot(), 500+3000*w.dice.Float64()
		w.step(1, func() {
			m.ShowRect(view.Rect{Min: at, Max: view.PicPt{X: at.X + side, Y: at.Y + side}})
		})
	case 6:
		w.step(1, m.Fit)
	case 7: // turned for a while
		angle := 0.1 * (w.dice.Float64() - 0.5)
		w.step(1, func() { m.RotateTo(angle) })
		w.step(60, func() { m.PanBy(6, 4) })
		w.step(1, func() { m.RotateTo(0) })
	}
	w.step(30, func() {})
}

// place is somewhere in the map area, spot somewhere on the sheet.
func (w *walker) place() fyne.Position {
	size := w.b.Sheet().Size()
	return fyne.NewPos(size.Width*w.dice.Float32(), size.Height*w.dice.Float32())
}

// spot must be called on the main thread, or while nothing opens.
func (w *walker) spot() view.PicPt {
	x, y := w.b.Sheet().View().Picture()
	return view.PicPt{X: float64(x) * w.dice.Float64(), Y: float64(y) * w.dice.Float64()}
}
