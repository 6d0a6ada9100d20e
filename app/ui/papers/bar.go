package papers

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// bar says which page is shown and turns it, and says below the choices how far the making is or
// why it failed: there a longer sentence leaves the page its size.
type bar struct {
	body     fyne.CanvasObject
	words    *widgets.Quiet
	back, on *widgets.Tool
	sentence *widgets.Sentence
	act      *widgets.Tool
	column   *fyne.Container // choices and sentence
}

func newBar(p *preview) *bar {
	b := &bar{words: widgets.NewQuiet(""), sentence: widgets.NewSentence("", widgets.Note)}
	b.back = widgets.NewTool(look.IconLeft, "Previous page  (Page Up)", func() { p.turn(-1) })
	b.on = widgets.NewTool(look.IconRight, "Next page  (Page Down)", func() { p.turn(1) })
	b.act = widgets.NewTextTool("", "", "", nil)
	for _, t := range []*widgets.Tool{b.back, b.on} {
		t.OnHint = p.r.n.Foot.Hint
	}
	zoom := widgets.NewChooser([]string{"Whole page", "Full width"}, func(i int) { p.view.wide = i == 1; p.follow() })
	b.body = container.NewBorder(nil, nil, container.NewHBox(b.back, b.words, b.on), zoom)
	return b
}

// under puts the sentence below the choices.
func (b *bar) under(choices fyne.CanvasObject) fyne.CanvasObject {
	b.column = container.New(&said{}, choices, container.NewVScroll(b.sentence), b.act)
	return b.column
}

// say says something, with what to do about it.
func (b *bar) say(text string, tone widgets.Tone, verb string, do func()) {
	b.sentence.Set(text, tone)
	show(b.sentence, text != "")
	show(b.act, do != nil)
	b.act.SetText(verb)
	b.act.OnTapped = do
	widgets.Arrange(b.column)
}

// pages says which page of how many is shown.
func (b *bar) pages(d *drawn, m *made) {
	if d == nil {
		b.words.SetText("No page")
		b.back.Disable()
		b.on.Disable()
		return
	}
	b.words.SetText(fmt.Sprintf("Page %d of %d", d.page, m.pages))
	able(b.back, d.page > 1)
	able(b.on, d.page < m.pages)
}

func able(t *widgets.Tool, on bool) {
	if on {
		t.Enable()
	} else {
		t.Disable()
	}
}

// said sets choices, a sentence and a button below each other. The choices scroll, and so does
// a sentence that would take more than half of the height.
type said struct{}

// MinSize is that of the widest, and high enough for a few lines.
func (said) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(max(o[0].MinSize().Width, o[2].MinSize().Width), 200)
}

// Layout gives the choices what the others leave.
func (said) Layout(o []fyne.CanvasObject, size fyne.Size) {
	high := size.Height
	if o[2].Visible() {
		h := o[2].MinSize().Height
		high -= h
		widgets.Put(o[2], 0, high, min(o[2].MinSize().Width, size.Width), h)
	}
	scroll := o[1].(*container.Scroll)
	text := float32(0)
	if scroll.Content.Visible() {
		scroll.Content.Resize(fyne.NewSize(size.Width, scroll.Content.MinSize().Height)) // its lines follow its width
		text = min(scroll.Content.MinSize().Height, size.Height/2)
	}
	high -= text
	widgets.Put(scroll, 0, high, size.Width, text)
	widgets.Put(o[0], 0, 0, size.Width, high)
}

// columns sets the choices beside the page.
type columns struct{}

// choicesWide is the width of the choices in DIP.
const choicesWide = 268

// MinSize is enough for both.
func (columns) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(choicesWide+o[1].MinSize().Width, max(o[1].MinSize().Height, 200))
}

// Layout sets them side by side.
func (columns) Layout(o []fyne.CanvasObject, size fyne.Size) {
	widgets.Put(o[0], 0, 0, choicesWide, size.Height)
	widgets.Put(o[1], choicesWide+8, 0, size.Width-choicesWide-8, size.Height)
}
