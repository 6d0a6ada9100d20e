package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
	"legwright/app/ui/sheetpanel"
)

// Tell says what came of an opening.
func (p *pictures) Tell(r opening.Report) (asks bool) {
	b := p.b
	switch r.Reason {
	case opening.Opened:
		p.opened(r)
	case opening.Cancelled:
		b.say(strings.TrimSpace("Cancelled: " + opening.Name(r.Path) + " was not opened. " + restWords(r.Rest)))
	case opening.NotOpened:
		p.notOpened(r)
	case opening.Refused:
		title := "This picture cannot be opened"
		if r.Use == opening.Own {
			title = "The plan's picture cannot be opened"
		}
		b.refuseFile(title, r.Err, r.Rest)
	case opening.Removed:
		b.refuseFile("This picture was removed from the sheet",
			fmt.Errorf("%w. The plan stays open without it; the calibration and the legs are kept", r.Err), r.Rest)
	case opening.CopyShown:
		b.fail(fmt.Errorf("the file cannot be read now, so an earlier copy is shown: %w", r.Err))
	case opening.Withheld:
		b.say("The plan is open without its picture. To choose one: Picture → Find the picture…")
	case opening.Stopped:
		b.say(fmt.Sprintf("%s %s not opened: drop it again.", b.foot.Message(), leftWords(r.Rest.Waiting)))
	case opening.StoreFault:
		b.fail(r.Err)
	case opening.FileChanged:
		b.fail(fmt.Errorf("saved, but %w", r.Err))
	}
	b.notePicture()
	b.probe.touch()
	return b.dialogOpen()
}

// opened says that a picture is there as a whole, and uses what its file says the
// first time.
func (p *pictures) opened(r opening.Report) {
	b := p.b
	b.say(openedWords(r.Picture))
	if r.First && len(r.File.Warnings) > 0 {
		b.tell("About the picture", foot.SentenceOf(strings.Join(r.File.Warnings, "; ")))
	}
	h := r.Picture.Header
	b.sheetP.TakeFile(sheetpanel.FileSays{
		Georef: r.File.Georeference, World: r.File.World, WorldFile: r.File.WorldFile, PositionM: h.PositionM, Cautions: h.Cautions,
	}, r.First)
	b.tellLeft(r.Rest)
}

// notOpened says that the person decided against a picture.
func (p *pictures) notOpened(r opening.Report) {
	b := p.b
	_, wants := b.s.Sheet()
	switch {
	case r.Rest.Several():
		b.say(leftWords(append(r.Rest.Waiting, r.Rest.Left...)) + " not opened.")
	case wants && b.desk.Pyramid() == nil:
		b.say("The plan is without its picture: Picture → Find the picture…")
	}
}

// refuseFile is refuse for a file that cannot be opened, with what became of those
// that were dropped with it.
func (b *Bench) refuseFile(title string, err error, rest opening.Batch) {
	if len(rest.Waiting) == 0 || !rest.Several() {
		b.refuse(title, err)
		return
	}
	name, text := filepath.Base(rest.Waiting[0]), foot.Sentence(err)
	if !strings.Contains(text, name) {
		text = name + ": " + text
	}
	b.fail(errors.New(text + " " + restWords(rest)))
	b.tell(title, text+"\n\n"+restWords(rest))
}

// tellLeft says which of the files that were dropped together were left out, once the
// others are there.
func (b *Bench) tellLeft(rest opening.Batch) {
	rest.Opened, rest.Waiting = append(rest.Opened, rest.Waiting...), nil
	if len(rest.Left) == 0 {
		return
	}
	b.say(fmt.Sprintf("%s %s", b.foot.Message(), restWords(opening.Batch{Left: rest.Left})))
	b.tell("Not all of it was opened", restWords(rest))
}

// restWords says what became of files that were dropped together, but for the one that
// is being opened.
func restWords(b opening.Batch) string {
	var out []string
	if len(b.Opened) > 0 {
		out = append(out, leftWords(b.Opened)+" opened.")
	}
	if len(b.Waiting) > 1 {
		out = append(out, leftWords(b.Waiting[1:])+" not opened: drop again what is missing.")
	}
	if len(b.Left) > 0 {
		out = append(out, leftWords(b.Left)+" left out, because only pictures are opened together: drop such a file by itself.")
	}
	return strings.Join(out, " ")
}

// leftWords names files, with the verb that follows.
func leftWords(paths []string) string {
	if len(paths) == 1 {
		return filepath.Base(paths[0]) + " was"
	}
	return fmt.Sprintf("%s and %d more were", filepath.Base(paths[0]), len(paths)-1)
}
