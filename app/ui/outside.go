package ui

import (
	"fmt"
	"slices"

	"legwright/mapio/planfile"
)

// outsideState is which pictures the open plan names outside its own folder, without
// anybody here having chosen them. They are not touched before a person agrees.
type outsideState struct {
	ask      []string
	declined []string // of those, what a person did not want opened
}

// reachOf takes over from where the pictures of another plan open.
func (b *Bench) reachOf(r planfile.Reach) {
	b.outside = outsideState{ask: r.Ask}
	b.picture.source.reach.Store(&r)
}

// mayOpen reports whether a picture of the plan may be opened now. Where that is to
// be asked, it asks, and opens the picture after the answer.
func (b *Bench) mayOpen(path string) bool {
	o := &b.outside
	switch {
	case !slices.Contains(o.ask, path):
		return true
	case slices.Contains(o.declined, path):
		b.sayDeclined()
		return false
	}
	decline := func() {
		o.declined = append(o.declined, path)
		b.sayDeclined()
	}
	text := fmt.Sprintf("This plan wants to open\n%s\noutside its own folder. Open it?\n\n"+
		"If the plan comes from somebody else and you do not know this file, cancel: the plan opens without its picture.", path)
	b.question("A picture outside the plan's folder", text, decline,
		answer{"Cancel", decline, true},
		answer{"Open", func() { b.agree(path) }, false})
	return false
}

// agree opens a picture that a person has agreed to, now and at every later start.
func (b *Bench) agree(path string) {
	b.outside.ask = slices.DeleteFunc(slices.Clone(b.outside.ask), func(p string) bool { return p == path })
	_ = b.known.Agreed(b.s.Path(), path) // what is not remembered is asked again
	b.openPlanPicture()
}

func (b *Bench) sayDeclined() {
	b.say("The plan is open without its picture: Picture, Find the picture…")
}

// rememberSaved notes that the plan was saved here, so that its pictures are not
// asked about at the next start. It does not while one of them waits for an answer:
// saving somebody else's plan is no answer.
func (b *Bench) rememberSaved() {
	if len(b.outside.ask) == 0 {
		_ = b.known.Saved(b.s.Path(), b.s.Stamp()) // what is not remembered is asked again
	}
}
