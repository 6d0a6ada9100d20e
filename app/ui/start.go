package ui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// DemoArgument is the argument that opens the demo, as in the headless commands.
const DemoArgument = "demo"

// beginning is what the bench opens when it starts.
type beginning struct {
	files []string // named on the command line
	demo  bool
	plan  string // the plan that was open last
}

// beginWithWhat decides what a start opens: what the command line names, else the plan
// that was open last, else at the very first run the demo, else nothing.
func beginWithWhat(args []string, set settings) beginning {
	switch {
	case len(args) == 1 && args[0] == DemoArgument:
		return beginning{demo: true}
	case len(args) > 0:
		return beginning{files: args}
	case set.last() != "":
		return beginning{plan: set.last()}
	}
	return beginning{demo: !set.welcomed()}
}

// early is what the picture that will be shown first is called on the command line.
func (w beginning) early() []string {
	if w.demo {
		return []string{DemoArgument}
	}
	return w.files
}

// begin opens what the start opens, and first offers what a crash left behind.
func (b *Bench) begin(what beginning) {
	first := func() { b.openFirst(what) }
	if !b.offerUnsaved(first) {
		first()
	}
}

func (b *Bench) openFirst(what beginning) {
	switch {
	case what.demo:
		b.openDemo()
		if !b.set.welcomed() {
			b.showWelcome()
		}
	case what.plan != "":
		b.reopen(what.plan)
	default:
		b.openAll(what.files)
	}
}

// reopen opens the plan of the last start. If its file is gone, the empty sheet says
// so and offers other ways to begin.
func (b *Bench) reopen(path string) {
	go func() {
		_, err := os.Stat(path)
		b.later(func() {
			if errors.Is(err, fs.ErrNotExist) {
				b.set.forget(path)
				b.set.setLast("")
				b.start.gone = path
				b.start.refresh()
				return
			}
			b.openPlan(path)
		})
	}()
}

// startCard lies over an empty sheet and offers the ways to begin.
type startCard struct {
	b      *Bench
	body   *widgets.Surface
	words  *widget.Label
	recent *startList
	demo   *widgets.Tool
	gone   string // the plan that was open last and is not there any more
}

// mostOffered is how many recent files the card offers. The menu has more.
const mostOffered = 5

// startList are the recent files on the card.
type startList struct {
	head *widget.Label
	tool [mostOffered]*widgets.Tool
	path [mostOffered]string
}

func newStartCard(b *Bench) *startCard {
	c := &startCard{b: b, words: widgets.NewWrapped(""), recent: &startList{head: widgets.NewQuiet("Recent")}}
	open := widgets.NewTextTool(look.IconSheet, "Open…", "Open a picture of a map, a plan or a GPX file  (Ctrl+O)", b.askOpen)
	c.demo = widgets.NewTextTool(look.IconRoute, "Open the demo", "Open the demo plan on invented ground", b.openDemo)
	list := container.NewVBox(widgets.NewHeading("Begin"), c.words, container.NewHBox(open, c.demo), c.recent.head)
	tools := []*widgets.Tool{open, c.demo}
	for i := range c.recent.tool {
		t := widgets.NewEntry("", "", "", func() { b.open(c.recent.path[i]) })
		c.recent.tool[i] = t
		tools = append(tools, t)
		list.Add(t)
	}
	for _, t := range tools {
		t.OnHint = b.hintTo
	}
	c.body = widgets.NewStrip(container.New(&widgets.Pad{Left: 14, Top: 8, Right: 14, Bottom: 12}, list))
	c.body.Hide()
	return c
}

// refresh shows the card while there is nothing on the bench.
func (c *startCard) refresh() {
	_, sheet := c.b.s.Sheet()
	p := c.b.s.Plan()
	on := !sheet && len(p.Legs)+len(p.Marks)+len(p.Tracks) == 0 && !c.b.openingPicture() && c.b.reading.view == nil
	if !on {
		c.gone = ""
	}
	if on {
		c.fill()
	}
	if on != c.body.Visible() {
		visible(c.body, on)
		c.b.root.Refresh()
	}
}

func (c *startCard) fill() {
	words := "Drop a picture of a map, a plan or a GPX file on this window, or open one."
	if c.gone != "" {
		words = "The plan you had open last is not there any more: " + c.gone + ".\n" + words
	}
	if c.words.Text != words {
		c.words.SetText(words)
	}
	files := c.b.set.recent()
	visible(c.recent.head, len(files) > 0)
	for i, t := range c.recent.tool {
		visible(t, i < len(files))
		if i < len(files) && files[i] != c.recent.path[i] {
			c.recent.path[i] = files[i]
			t.SetText(filepath.Base(files[i]))
			t.SetHint("Open " + files[i])
		}
	}
}
