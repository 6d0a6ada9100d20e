package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"legwright/app/ui/foot"
)

// dropState is what became of files that were dropped, or named, together: each
// is told of, also where one message would take the place of another.
type dropState struct {
	waiting []string // not there yet, the first being opened
	opened  []string
	left    []string // left out, for they are not opened together with the first
}

// several reports whether there is more than one file to tell of.
func (d dropState) several() bool { return len(d.waiting)+len(d.opened)+len(d.left) > 1 }

// rest says what became of the files but the one that is being opened.
func (d dropState) rest() string {
	var out []string
	if len(d.opened) > 0 {
		out = append(out, leftWords(d.opened)+" opened.")
	}
	if len(d.waiting) > 1 {
		out = append(out, leftWords(d.waiting[1:])+" not opened: drop again what is missing.")
	}
	if len(d.left) > 0 {
		out = append(out, leftWords(d.left)+" left out, for only pictures are opened together: drop such a file by itself.")
	}
	return strings.Join(out, " ")
}

// dropOpened notes that a file has been opened, and tells of those that were left
// out once it was the last.
func (b *Bench) dropOpened(path string) {
	d := &b.sheets.drop
	if len(d.waiting) == 0 || d.waiting[0] != path {
		return
	}
	d.waiting, d.opened = d.waiting[1:], append(d.opened, path)
	if len(d.waiting) > 0 {
		return
	}
	now := *d
	*d = dropState{}
	if len(now.left) == 0 {
		return
	}
	b.say(fmt.Sprintf("%s %s", b.foot.Message(), dropState{left: now.left}.rest()))
	b.tell("Not all of it was opened", now.rest())
}

// refuseOpening is refuse for a file that could not be opened, with what became
// of those that were dropped with it.
func (b *Bench) refuseOpening(title string, err error) {
	d := b.sheets.drop
	b.sheets.drop, b.sheets.queue = dropState{}, nil
	if len(d.waiting) == 0 || !d.several() {
		b.refuse(title, err)
		return
	}
	name, text := filepath.Base(d.waiting[0]), foot.Sentence(err)
	if !strings.Contains(text, name) {
		text = name + ": " + text
	}
	b.fail(errors.New(text + " " + d.rest()))
	b.tell(title, text+"\n\n"+d.rest())
}

// leaveDrop forgets files that a person does not want opened.
func (b *Bench) leaveDrop() {
	d := b.sheets.drop
	b.sheets.drop, b.sheets.queue = dropState{}, nil
	if d.several() {
		b.say(leftWords(append(d.waiting, d.left...)) + " not opened.")
	}
}
