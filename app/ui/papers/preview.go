package papers

import (
	"errors"
	"image"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
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
	asked *asked // what the job under way is for
	err   error  // why there is nothing to show
	note  string // what was done with the paper
}

// asked is a page at a size.
type asked struct {
	of   wish
	page int
	px   image.Point
}

func newPreview(r *Room) *preview {
	p := &preview{r: r, page: 1}
	p.choices = newChoices(r.n.Dialogs, p.escapes(), p.askPeople, p.chosen)
	p.choices.set(r.n.Files.Settings.Paper())
	p.view = newPageView(r.n.Dialogs.Window().Canvas(), p.follow)
	p.bar = newBar(p)
	body := container.New(&columns{}, p.bar.under(p.choices.body), container.NewBorder(p.bar.body, nil, nil, nil, p.view.body))
	p.q = r.n.Dialogs.Ask("Print papers", body, size, r.closed,
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
	w := wish{order: p.choices.order(), omit: strings.Join(p.choices.omit(), ","), reader: s.Reader(), saved: s.SavedAt(), file: s.Path()}
	if w.order.Form == card.BaseForm {
		w.home = p.r.home
	}
	return w
}

// want is the page that is to be shown.
func (p *preview) want() asked {
	w := p.wish()
	return asked{w, p.page, p.view.pixels(w.order.Size)}
}

// ready reports whether the chosen paper has been made. It can be saved even where its page
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
	if a.px.X < 1 || a.px.Y < 1 || p.asked != nil && a == *p.asked {
		p.tell()
		return
	}
	p.begin(a)
}

// begin makes and draws a page beside the window, in place of what is under way.
func (p *preview) begin(a asked) {
	p.asked, p.err, p.note = &a, nil, ""
	if p.r.n.Files.Terrain.Reading() { // an escape over steep ground would pass without it
		p.asked, p.err, p.drawn = nil, errTerrain, nil
		p.r.making.Cancel()
		p.view.show(nil)
		p.tell()
		return
	}
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

// Why there is no page.
var (
	errCancelled = errors.New("no page was made, because you cancelled")
	errTerrain   = errors.New("the plan's terrain is still being read: wait a moment, then press Make the pages")
)

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
	case errors.Is(p.err, errNobody):
		p.bar.say(foot.Sentence(p.err), widgets.Note, "Name the party…", p.askPeople)
	case p.err != nil:
		verb, do := p.mend()
		p.bar.say(foot.Sentence(p.err), widgets.Fault, verb, do)
	case !p.grounded():
		p.bar.say("The plan's terrain was not read, so climbs may be missing and no escape was checked for over-steep ground. To open it: File → Open terrain…", widgets.Caution, "", nil)
	default:
		p.bar.say(p.note, widgets.Note, "", nil)
	}
	p.bar.pages(p.drawn, p.made)
}

// grounded reports whether the heights of the plan's terrain have been read, if it has any.
func (p *preview) grounded() bool { _, ok := p.r.n.Session.Ground(); return ok }

// mend is what can be done about the error.
func (p *preview) mend() (verb string, do func()) {
	danger, unmapped := new(card.Dangerous), new(card.Unmapped)
	switch {
	case errors.As(p.err, &danger):
		return leaveWords(danger.Names), func() { p.choices.leaveOut(danger.Names) }
	case errors.As(p.err, &unmapped):
		return "Leave out the map", func() { p.choices.noMap.SetChecked(true) }
	case errors.Is(p.err, card.ErrSmallBase):
		return "Use A4", func() { p.choices.size.SetSelectedIndex(0) }
	case errors.Is(p.err, errCancelled), errors.Is(p.err, errTerrain):
		return "Make the pages", p.again
	case p.choices.order().Form == card.BaseForm && !p.ready():
		return "Name the party…", p.askPeople
	}
	return "", nil
}

// leaveWords say what leaves escapes out.
func leaveWords(names []string) string {
	const few = 3
	if len(names) > few {
		return "Leave them out"
	}
	return "Leave out " + strings.Join(names, ", ")
}
