package papers

import (
	"errors"
	"fmt"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/mapio/card"
)

// The answers of the dialog.
const (
	saveText = "Save PDF…"
	viewText = "Open in the viewer"
)

// preview is the dialog while it is open.
type preview struct {
	r       *Room
	q       *ask.Question
	choices *choices
	view    *pageView
	bar     *bar
	page    int // wanted, from 1

	made  *made  // the latest paper
	drawn *drawn // what is shown
	asked asked  // what the job under way is for
	err   error  // why there is nothing to show
}

// asked is a page at a size.
type asked struct {
	of   wish
	page int
	px   image.Point
}

func newPreview(r *Room) *preview {
	p := &preview{r: r, page: 1}
	p.choices = newChoices(r.n.Dialogs, p.escapes(), p.chosen)
	p.choices.set(r.n.Files.Settings.Paper())
	p.view = newPageView(r.n.Dialogs.Window().Canvas(), p.follow)
	p.bar = newBar(p)
	side := container.New(&columns{}, p.choices.body, container.NewBorder(p.bar.body, nil, nil, nil, p.view.body))
	p.q = r.n.Dialogs.Ask("Print papers", side, size, r.closed,
		ask.Answer{Text: "Close", Do: r.closed}, ask.Answer{Text: viewText, Do: p.openInViewer, Stays: true}, ask.Answer{Text: saveText, Do: p.save, Default: true, Stays: true})
	p.q.TakeKeys(p.key)
	return p
}

// escapes are the plan's, to be left out.
func (p *preview) escapes() (list []offered) {
	for _, e := range p.r.n.Session.Escapes().Escapes {
		list = append(list, offered{e.Name, e.Name + " to " + e.To})
	}
	return list
}

// chosen follows a choice, and remembers it.
func (p *preview) chosen() {
	if p.q == nil { // the choices are being filled
		return
	}
	o := p.choices.order()
	p.r.n.Files.Settings.SetPaper(string(o.Form), o.Size.Name, o.Size.Width > o.Size.Height)
	p.follow()
}

// wish is the paper that is chosen, of the plan as it is.
func (p *preview) wish() wish {
	s := p.r.n.Session
	return wish{order: p.choices.order(), omit: strings.Join(p.choices.omit(), ","), reader: s.Reader(), saved: s.SavedAt()}
}

// want is the page that is to be shown.
func (p *preview) want() asked {
	w := p.wish()
	return asked{w, p.page, p.view.pixels(w.order.Size)}
}

// ready reports whether the paper that is chosen is there. It can be saved even where its page
// cannot be drawn.
func (p *preview) ready() bool {
	return p.r.open == p && p.made != nil && p.made.of == p.wish()
}

// follow shows the page that is wanted, unless that is under way or shown.
func (p *preview) follow() {
	if p.q == nil {
		return
	}
	a := p.want()
	if a.px.X < 1 || a.px.Y < 1 || a == p.asked {
		p.tell()
		return
	}
	p.begin(a)
}

// begin makes and draws a page beside the window, in place of what is under way.
func (p *preview) begin(a asked) {
	p.asked, p.err = a, nil
	w := &work{drawPage: p.r.n.Draw, pictures: p.r.n.Files.SheetPictures(), of: a.of, page: a.page, px: a.px, made: p.made}
	p.r.making.Start("Making the papers", w.do, func(err error) {
		if w.made != nil {
			p.made = w.made
		}
		if p.err = err; err == nil {
			p.drawn, p.page, p.asked.page = w.drawn, w.drawn.page, w.drawn.page
		} else {
			p.drawn = nil
		}
		p.view.show(p.drawn)
		p.tell()
	})
}

// cancel ends what is under way; what was shown before is of other choices and goes.
func (p *preview) cancel() {
	if p.r.making.Cancel() {
		p.drawn, p.err = nil, errCancelled
		p.view.show(nil)
		p.tell()
	}
}

var errCancelled = errors.New("cancelled: no page was made")

// again makes what is chosen once more.
func (p *preview) again() { p.begin(p.want()) }

// turn goes to another page.
func (p *preview) turn(by int) {
	if p.drawn == nil {
		return
	}
	if to := p.page + by; to >= 1 && to <= p.made.pages {
		p.page = to
		p.view.scroll.ScrollToOffset(fyne.NewPos(0, 0))
		p.follow()
	}
}

// key turns pages and scrolls.
func (p *preview) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyPageDown:
		if !p.view.roll(0.9) {
			p.turn(1)
		}
	case fyne.KeyPageUp:
		if !p.view.roll(-0.9) {
			p.turn(-1)
		}
	case fyne.KeyDown, fyne.KeyUp:
		p.view.roll(map[fyne.KeyName]float32{fyne.KeyDown: 0.15, fyne.KeyUp: -0.15}[k])
	default:
		return false
	}
	return true
}

// tellJob says how far the job is.
func (p *preview) tellJob() { p.tell() }

// tell brings the bar and the answers up to date.
func (p *preview) tell() {
	if p.q == nil {
		return
	}
	job, busy := p.r.making.Now()
	ready := p.ready() && !busy
	p.q.Enable(saveText, ready)
	p.q.Enable(viewText, ready)
	switch {
	case busy:
		words := job.Progress.Stage
		if words == "" {
			words = job.Title + "…"
		}
		p.bar.say(words, widgets.Note, "Cancel", p.cancel)
	case p.err != nil:
		verb, do := p.mend()
		p.bar.say(foot.Sentence(p.err), widgets.Fault, verb, do)
	case p.r.n.Files.Terrain.Reading():
		p.bar.say("The terrain is still being read: its heights are not on the paper yet.", widgets.Caution, "", nil)
	default:
		p.bar.say("", widgets.Note, "", nil)
	}
	p.bar.pages(p.drawn, p.made)
}

// mend is what can be done about the error.
func (p *preview) mend() (verb string, do func()) {
	danger, unmapped := new(card.Dangerous), new(card.Unmapped)
	switch {
	case errors.As(p.err, &danger):
		return "Leave out " + strings.Join(danger.Names, ", "), func() { p.choices.leaveOut(danger.Names) }
	case errors.As(p.err, &unmapped):
		return "Leave out the map", func() { p.choices.noMap.SetChecked(true) }
	case errors.Is(p.err, errCancelled):
		return "Make the pages", p.again
	}
	return "", nil
}

// bar says which page is shown, and turns it.
type bar struct {
	body     fyne.CanvasObject
	words    *widgets.Quiet
	back, on *widgets.Tool
	sentence *widgets.Sentence
	act      *widgets.Tool
	row      *fyne.Container
}

func newBar(p *preview) *bar {
	b := &bar{words: widgets.NewQuiet(""), sentence: widgets.NewSentence("", widgets.Note)}
	b.back = widgets.NewTool(look.IconLeft, "Previous page  (Page Up)", func() { p.turn(-1) })
	b.on = widgets.NewTool(look.IconRight, "Next page  (Page Down)", func() { p.turn(1) })
	b.act = widgets.NewTextTool("", "", "", nil)
	zoom := widgets.NewChooser([]string{"Whole page", "Full width"}, func(i int) { p.view.wide = i == 1; p.follow() })
	b.row = container.NewBorder(nil, nil, nil, b.act, b.sentence)
	b.row.Hide()
	b.body = container.NewVBox(container.NewBorder(nil, nil, container.NewHBox(b.back, b.words, b.on), zoom), b.row)
	return b
}

// say says something over the page, with something to do about it.
func (b *bar) say(text string, tone widgets.Tone, verb string, do func()) {
	b.sentence.Set(text, tone)
	show(b.row, text != "")
	show(b.act, do != nil)
	b.act.SetText(verb)
	b.act.OnTapped = do
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
