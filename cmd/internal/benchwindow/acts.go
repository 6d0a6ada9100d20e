package main

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/canvas/view"
)

// acts runs the scenarios of what is done with the keys and the dial on the demo.
func acts(b *ui.Bench, o options) {
	letters(b)
	typing(b, o.frames)
	arc(b, o.frames)
	wedge(b, o.frames)
}

// do does something on the main thread and lets the window come to rest.
func do(f func()) {
	fyne.DoAndWait(f)
	time.Sleep(time.Second / 2)
}

// choose does what an entry of the menu does; its key follows its words.
func choose(menu, entry string) {
	for _, m := range window().MainMenu().Items {
		for _, i := range m.Items {
			if m.Label == menu && strings.HasPrefix(i.Label, entry) {
				do(i.Action)
				return
			}
		}
	}
	must(fmt.Errorf("there is no entry %q in the menu %q", entry, menu))
}

func window() fyne.Window { return fyne.CurrentApp().Driver().AllWindows()[0] }

// press presses a key where the keys go.
func press(k fyne.KeyName) {
	if to := window().Canvas().Focused(); to != nil {
		to.TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func write(r rune) {
	if to := window().Canvas().Focused(); to != nil {
		to.TypedRune(r)
	}
}

// clickOn clicks on a point of the picture, after it was brought into sight.
func clickOn(b *ui.Bench, spot view.PicPt) {
	m := b.Sheet()
	do(func() { m.CenterOn(spot) })
	do(func() {
		p := m.View().ToScreen(spot)
		scale := float64(window().Canvas().Scale())
		e := &desktop.MouseEvent{PointEvent: at(b, fyne.NewPos(float32(p.X/scale), float32(p.Y/scale))), Button: desktop.MouseButtonPrimary}
		m.MouseDown(e)
		m.MouseUp(e)
	})
}

// letters shows the first words in scripts other than Latin: as a mark's name on the
// sheet, in the panel and in the ledger.
func letters(b *ui.Bench) {
	var id plan.ID
	do(func() { id = b.Session().Plan().Marks[0].ID })
	choose("Route", "List marks")
	words := []string{"Άκρα", "Мыс", "رأس", "ראש", "अन्तरीप", "Հրվանդան", "კონცხი", "แหลม"}
	first := func(i int) {
		if i%30 == 0 && i/30 < len(words) {
			must(b.Session().Rename(id, words[i/30]))
			b.Session().Select(id)
		}
	}
	noted("letters", 30*len(words), 0, time.Second/60, first)
	do(func() { must(b.Session().Rename(id, "Head")) })
}

// typing types into the notes of sixty legs: a word, Return, the next leg.
func typing(b *ui.Bench, frames int) {
	do(func() { addLegs(b, 60) })
	choose("Route", "Go to the ledger")
	do(func() { press(fyne.KeyDown) })
	scenario("type", frames, func(i int) {
		switch k := i % 10; k {
		case 8:
			press(fyne.KeyReturn)
		case 9:
			press(fyne.KeyDown)
		default:
			write(rune('a' + k))
		}
	})
}

// arc drags a line while Teach shows its direction.
func arc(b *ui.Bench, frames int) {
	choose("Teach", "Show a line")
	do(func() { b.Sheet().ZoomBy(2) })
	waitSharp(b)
	mid := fyne.NewPos(b.Sheet().Size().Width/2, b.Sheet().Size().Height/2)
	scenario("arc", frames, newDrag(b, desktop.MouseButtonPrimary, mid))
	do(func() { b.Sheet().Cancel() })
}

// wedge turns the dial while Teach shows what lies on the bearing.
func wedge(b *ui.Bench, frames int) {
	choose("Teach", "See what lies on a bearing")
	choose("Route", "Go to the sheet")
	var mark plan.Mark
	do(func() { mark = b.Session().Plan().Marks[0] })
	do(func() { write('f') })
	clickOn(b, view.PicPt{X: mark.Position.At.Col, Y: mark.Position.At.Row})
	do(func() { write('t') })
	scenario("wedge", frames, func(int) { press(fyne.KeyRight) })
}
