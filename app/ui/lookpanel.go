package ui

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
)

// lookPanel is the small panel over the sheet that changes how the picture is
// shown: its contrast, how far it is faded so that legs stand out, and its
// light turned to dark for the night. The file and the plan stay as they are.
type lookPanel struct {
	b              *Bench
	body           *widgets.Surface
	contrast, fade *lookSlider
	contrastWords  *widget.Label
	fadeWords      *widget.Label
	invert         *widgets.Tool
	filling        bool // the sliders are being set, not moved
}

// lookSlider is a slider that passes Escape on, which it would swallow.
type lookSlider struct {
	widget.Slider
	escape func()
}

func newLookSlider(least float64, escape func(), changed func(float64)) *lookSlider {
	s := &lookSlider{escape: escape}
	s.Min, s.Max, s.Step, s.OnChanged = least, 1, 0.05, changed
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey is Fyne's: the arrows move the slider.
func (s *lookSlider) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		s.escape()
		return
	}
	s.Slider.TypedKey(e)
}

func newLookPanel(b *Bench) *lookPanel {
	p := &lookPanel{b: b, contrastWords: widgets.NewQuiet(""), fadeWords: widgets.NewQuiet("")}
	p.contrast = newLookSlider(-1, p.hide, func(float64) { p.moved() })
	p.fade = newLookSlider(0, p.hide, func(float64) { p.moved() })
	p.invert = widgets.NewTextTool("", "Dark for the night", "Turn the picture's light to dark  (Ctrl+Shift+K)", b.invertPicture)
	plain := widgets.NewTextTool("", "As it is", "Show the picture as its file has it  (Ctrl+Shift+U)", b.plainPicture)
	shut := widgets.NewTextTool("", "Close  (Esc)", "Put this panel away  (Ctrl+K)", p.hide)
	for _, t := range []*widgets.Tool{p.invert, plain, shut} {
		t.OnHint = b.hintTo
	}
	row := func(name string, words *widget.Label, s *lookSlider) fyne.CanvasObject {
		return container.NewBorder(nil, nil, container.New(&fixedWidth{80}, widget.NewLabel(name)), container.New(&fixedWidth{70}, words), s)
	}
	p.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 8, Top: 4, Right: 8, Bottom: 4}, container.NewVBox(
		widgets.NewHeading("How the picture is shown"),
		row("Contrast", p.contrastWords, p.contrast), row("Faded", p.fadeWords, p.fade),
		container.NewHBox(p.invert, plain, shut))))
	p.body.Hide()
	return p
}

// fixedWidth gives one object a width whatever its words are, so that nothing
// beside it moves.
type fixedWidth struct{ w float32 }

// MinSize is the width and the object's own height.
func (l *fixedWidth) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(l.w, o[0].MinSize().Height)
}

// Layout gives the object all the room.
func (l *fixedWidth) Layout(o []fyne.CanvasObject, size fyne.Size) {
	widgets.Put(o[0], 0, 0, size.Width, size.Height)
}

// moved shows what the sliders say.
func (p *lookPanel) moved() {
	if !p.filling {
		l := p.b.set.pictureLook()
		l.Contrast, l.Fade = p.contrast.Value, p.fade.Value
		p.b.setPictureLook(l)
	}
}

// fill brings the panel up to a look.
func (p *lookPanel) fill(l pyramid.Look) {
	p.filling = true
	p.contrast.SetValue(l.Contrast)
	p.fade.SetValue(l.Fade)
	p.filling = false
	p.contrastWords.SetText(fmt.Sprintf("%+.0f", 100*l.Contrast))
	if math.Abs(l.Contrast) < 0.005 {
		p.contrastWords.SetText("as it is")
	}
	p.fadeWords.SetText(fmt.Sprintf("%.0f %%", 100*l.Fade))
	p.invert.SetOn(l.Invert)
}

func (p *lookPanel) show() {
	p.fill(p.b.set.pictureLook())
	p.body.Show()
	p.b.root.Refresh()
	p.b.window.Canvas().Focus(p.contrast)
}

func (p *lookPanel) hide() {
	p.body.Hide()
	p.b.focusSheet()
}

// toggleLook shows the panel, or puts it away.
func (b *Bench) toggleLook() {
	if b.look.body.Visible() {
		b.look.hide()
		return
	}
	b.look.show()
}

// setPictureLook shows the picture another way and remembers it.
func (b *Bench) setPictureLook(l pyramid.Look) {
	b.set.setPictureLook(l)
	b.look.fill(l)
	if p := b.desk.Pyramid(); p != nil {
		p.SetLook(l)
	}
	b.refreshMenus()
	b.probe.touch()
}

// invertPicture turns light to dark, or back.
func (b *Bench) invertPicture() {
	l := b.set.pictureLook()
	l.Invert = !l.Invert
	b.setPictureLook(l)
}

// plainPicture shows the picture as its file has it.
func (b *Bench) plainPicture() { b.setPictureLook(pyramid.Look{}) }

// stepLook changes contrast and fade by steps, for the keyboard.
func (b *Bench) stepLook(contrast, fade float64) {
	l := b.set.pictureLook()
	l.Contrast = min(max(l.Contrast+contrast, -1), 1)
	l.Fade = min(max(l.Fade+fade, 0), 1)
	b.setPictureLook(l)
}
