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

// lookPanel is the small panel over the sheet that changes how the picture is shown:
// its contrast, how far it is faded so that legs stand out, and whether its light is
// turned to dark for the night. The file and the plan stay as they are.
type lookPanel struct {
	around         around
	set            *settings
	tiles          func() *pyramid.Pyramid // of the picture shown, nil for none
	body           *widgets.Surface
	contrast, fade *lookSlider
	contrastWords  *widgets.Quiet
	fadeWords      *widgets.Quiet
	invert         *widgets.Tool
	filling        bool // the sliders are being set, not moved
}

// lookSlider is a slider that passes Escape on; the toolkit's own keeps it.
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

func newLookPanel(set *settings, tiles func() *pyramid.Pyramid, hint func(string), w around) *lookPanel {
	p := &lookPanel{around: w, set: set, tiles: tiles, contrastWords: widgets.NewQuiet(""), fadeWords: widgets.NewQuiet("")}
	p.contrast = newLookSlider(-1, p.hide, func(float64) { p.moved() })
	p.fade = newLookSlider(0, p.hide, func(float64) { p.moved() })
	p.invert = widgets.NewTextTool("", "Darken for night use", "Swap light and dark, and keep the colours  (Ctrl+Shift+K)", p.invertLight)
	plain := widgets.NewTextTool("", "As in the file", "Show the picture as it is in its file  (Ctrl+Shift+U)", p.plain)
	shut := widgets.NewTextTool("", "Close", "Close this panel  (Ctrl+K or Esc)", p.hide)
	for _, t := range []*widgets.Tool{p.invert, plain, shut} {
		t.OnHint = hint
	}
	row := func(name string, words *widgets.Quiet, s *lookSlider) fyne.CanvasObject {
		return container.NewBorder(nil, nil, container.New(&fixedWidth{80}, widget.NewLabel(name)), container.New(&fixedWidth{96}, words), s)
	}
	p.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 8, Top: 4, Right: 4, Bottom: 4}, container.NewVBox(
		container.NewBorder(nil, nil, nil, shut, widgets.NewHeading("How the picture is shown")),
		row("Contrast", p.contrastWords, p.contrast), row("Fade", p.fadeWords, p.fade),
		container.NewHBox(p.invert, plain))))
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
		l := p.set.pictureLook()
		l.Contrast, l.Fade = p.contrast.Value, p.fade.Value
		p.apply(l)
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
		p.contrastWords.SetText("as in the file")
	}
	p.fadeWords.SetText(fmt.Sprintf("%.0f %%", 100*l.Fade))
	p.invert.SetOn(l.Invert)
}

func (p *lookPanel) show() {
	p.fill(p.set.pictureLook())
	p.body.Show()
	p.around.arrange()
	p.around.focus(p.contrast)
}

func (p *lookPanel) hide() {
	p.body.Hide()
	p.around.focus(nil)
}

// toggle shows or hides the panel.
func (p *lookPanel) toggle() {
	if p.body.Visible() {
		p.hide()
		return
	}
	p.show()
}

// apply shows the picture another way and remembers it.
func (p *lookPanel) apply(l pyramid.Look) {
	p.set.setPictureLook(l)
	p.fill(l)
	if t := p.tiles(); t != nil {
		t.SetLook(l)
	}
	p.around.changed()
}

// invertLight turns light to dark, or back.
func (p *lookPanel) invertLight() {
	l := p.set.pictureLook()
	l.Invert = !l.Invert
	p.apply(l)
}

// plain shows the picture as it is in its file.
func (p *lookPanel) plain() { p.apply(pyramid.Look{}) }

// step changes contrast and fade by steps, for the keyboard.
func (p *lookPanel) step(contrast, fade float64) {
	l := p.set.pictureLook()
	l.Contrast = min(max(l.Contrast+contrast, -1), 1)
	l.Fade = min(max(l.Fade+fade, 0), 1)
	p.apply(l)
}
