package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/canvas/view"
)

// act runs the scenario of that name on the demo: what is done with the keys and the dial.
// From the ledger on, sixty legs lie on the sheet.
func act(b *ui.Bench, o options) {
	run, known := map[string]func(*ui.Bench, int){
		"ground": ground, "ground_zoom": groundZoom, "letters": letters, "type": typing, "arc": arc, "wedge": wedge, "nudge": nudge,
	}[o.act]
	if !known {
		must(fmt.Errorf("there is no act %q", o.act))
	}
	if !strings.HasPrefix(o.act, "ground") && o.act != "letters" {
		do(func() { addLegs(b, 60) })
	}
	run(b, o.frames)
}

// do does something on the main thread and lets the window come to rest.
func do(f func()) {
	alive.step()
	fyne.DoAndWait(f)
	time.Sleep(time.Second / 2)
}

// choose does what an entry of the menu does; its key follows its words.
func choose(menu, entry string) {
	alive.doing("the main thread, to choose " + menu + ", " + entry)
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
	alive.doing("the main thread, to click on the sheet")
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

// ground pans while steepness and contours lie over the sheet.
func ground(b *ui.Bench, frames int) {
	showGround(b)
	mid := fyne.NewPos(b.Sheet().Size().Width/2, b.Sheet().Size().Height/2)
	scenario("ground", frames, newDrag(b, desktop.MouseButtonTertiary, mid))
	do(func() {
		b.Sheet().MouseUp(&desktop.MouseEvent{PointEvent: at(b, mid), Button: desktop.MouseButtonTertiary})
	})
}

// groundZoom zooms while steepness and contours lie over the sheet.
func groundZoom(b *ui.Bench, frames int) {
	showGround(b)
	scenario("ground_zoom", frames, newZoom(b))
}

// showGround lays steepness and contours over the sheet.
func showGround(b *ui.Bench) {
	do(func() {
		must(b.Session().SetContour(10))
		b.Sheet().ZoomBy(2)
	})
	choose("View", "Show steepness")
	choose("View", "Show contours of the terrain")
	for range 40 { // the ground is read beside the window
		do(func() {})
		read := false
		do(func() { read = b.Scene().Relief != nil })
		if read {
			break
		}
	}
	do(func() {
		if b.Scene().Relief == nil {
			must(errors.New("the ground of the sheet is not shown"))
		}
	})
	waitSharp(b)
}

// letters shows the first words in scripts other than Latin: as a mark's name on the
// sheet, in the panel and in the ledger.
func letters(b *ui.Bench, _ int) {
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

// nudge moves one of 225 control points by the arrow keys, with a rest after each row of
// keys: the sheet is judged then, while the next row begins.
func nudge(b *ui.Bench, frames int) {
	spot := calibrateBy(b, 15)
	choose("View", "Go to the Sheet panel")
	clickOn(b, spot)
	scenario("nudge", frames, func(i int) {
		switch k := i % 60; {
		case k < 20:
			press(fyne.KeyRight)
		case k >= 30 && k < 50:
			press(fyne.KeyLeft)
		}
	})
}

// calibrateBy gives the sheet n × n control points where its calibration has them, up to a
// metre off, and returns where the middle one lies.
func calibrateBy(b *ui.Bench, n int) (middle view.PicPt) {
	do(func() {
		c, err := b.Session().Calibration()
		must(err)
		p := *b.Session().Plan()
		sheet := p.Sheets[0]
		sheet.Points = nil
		for i := range n * n {
			at := calib.PicturePt{
				Col: float64(sheet.Width) * (float64(i%n) + 0.5) / float64(n),
				Row: float64(sheet.Height) * (float64(i/n) + 0.5) / float64(n),
			}
			ref := c.ToGrid(at)
			ref.E, ref.N = math.Round(ref.E+math.Sin(float64(i))), math.Round(ref.N+math.Cos(float64(3*i)))
			sheet.Points = append(sheet.Points, calib.ControlPoint{At: at, Ref: ref, Text: fmt.Sprintf("%.0f %.0f", ref.E, ref.N)})
		}
		must(b.Session().Use(p.SetSheet(sheet)))
		at := sheet.Points[n*n/2].At
		middle = view.PicPt{X: at.Col, Y: at.Row}
	})
	return middle
}
