package ui

import (
	"fmt"
	"slices"

	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// outsideState lists the pictures that the open plan names outside its own folder
// and that nobody here chose. The bench touches none before the person agrees.
type outsideState struct {
	ask      []string
	declined []string // those of them that the person refused
}

// reachOf sets the folders from which the pictures of a newly opened plan may open.
func (b *Bench) reachOf(r planfile.Reach) {
	b.outside = outsideState{ask: r.Ask}
	b.picture.source.reach.Store(&r)
}

// mayOpen reports whether a picture of the plan may be opened now. If the person
// must agree first, it asks, and opens the picture after the answer.
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
	text := fmt.Sprintf("The plan names a picture outside its own folder:\n%s\nOpen it?\n\n"+
		"If somebody sent you the plan and you do not know this file, cancel: the plan opens without its picture.", path)
	b.question("A picture outside the plan's folder", text, decline,
		answer{Text: "Cancel", Do: decline, Default: true},
		answer{Text: "Open", Do: func() { b.agree(path) }})
	return false
}

// agree opens a picture after the person agreed, and remembers that for later starts.
func (b *Bench) agree(path string) {
	b.chosen(path)
	_ = b.known.Agreed(b.s.Path(), path) // after a failure the bench asks again
	b.openPlanPicture()
}

// chosen notes that the person picked this picture, so that nobody asks about it.
func (b *Bench) chosen(path string) {
	b.outside.ask = slices.DeleteFunc(slices.Clone(b.outside.ask), func(p string) bool { return p == path })
}

func (b *Bench) sayDeclined() {
	b.say("The plan is open without its picture. To choose one: Picture → Find the picture…")
}

// rememberSaved notes that the plan was saved here, so that the next start opens its
// pictures without asking. While a picture still waits for an answer it notes
// nothing: to save somebody else's plan is not to agree to its pictures.
func (b *Bench) rememberSaved() {
	waits := func(s plan.Sheet) bool { return slices.Contains(b.outside.ask, s.Picture) }
	if !slices.ContainsFunc(b.s.Plan().Sheets, waits) {
		_ = b.known.Saved(b.s.Path(), b.s.Stamp()) // after a failure the bench asks again
	}
}
