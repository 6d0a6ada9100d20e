package ui

import (
	"fmt"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/scan"
)

// pictureEndings are what the open dialog shows.
func pictureEndings() []string {
	return []string{".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp", ".bmp", ".gif", ".pdf", ".kml", ".kmz"}
}

// loadPicture opens a picture away from the window, shows how far it is, and
// calls then on the main thread with what can be shown first. Whatever was
// being opened before is given up.
func (b *Bench) loadPicture(path string, page plan.Page, then func(loaded)) {
	b.load(path, page, false, then)
}

func (b *Bench) load(path string, page plan.Page, afresh bool, then func(loaded)) {
	p := &b.picture
	p.giveUp()
	b.endGlimpse(nil)
	b.makeRoom()
	o := p.early
	p.early = nil
	if o == nil || o.path != path || o.want != page || afresh {
		if o != nil {
			o.cancel()
		}
		o = p.source.open(path, page, b.previewSide(), afresh)
	}
	p.now, p.then = o, then
	p.view = newProgressView(b, pictureName(path), b.giveUpOpening)
	go o.follow(b, p.view)
}

// makeRoom lets go of a picture that is in memory before another is decoded.
func (b *Bench) makeRoom() {
	if p := b.picture.pyramid; p != nil && p.Stats().PictureBytes > letGoAbove {
		b.dropPicture()
		b.picture.half = true
		b.sheetP.PictureChanged()
		b.refreshAll()
	}
}

// previewSide is how large a preview has to be to look sharp in the window.
func (b *Bench) previewSide() int {
	c := b.window.Canvas()
	s := c.Size()
	return max(scan.DefaultSide, int(max(s.Width, s.Height)*c.Scale()))
}

// follow brings what an opening tells to the main thread.
func (o *opening) follow(b *Bench, v *progressView) {
	tick := v.ticks()
	defer tick.Stop()
	for {
		select {
		case a, more := <-o.arrivals:
			if !more {
				return
			}
			b.later(func() { b.arrived(o, a) })
		case <-tick.C:
			if at := o.at.Load(); at != nil {
				b.later(func() { v.tell(*at) })
			}
		}
	}
}

// arrived takes what an opening tells.
func (b *Bench) arrived(o *opening, a arrival) {
	p := &b.picture
	if p.now != o { // given up
		for _, l := range []*loaded{a.glimpse, a.first} {
			if l != nil && l.pyramid != nil && l.pyramid != p.pyramid {
				go l.pyramid.Close()
			}
		}
		return
	}
	switch {
	case a.end != nil:
		b.ended(o, *a.end)
		return
	case a.glimpse != nil:
		b.showGlimpse(*a.glimpse)
		return
	}
	then := p.then
	if a.first.err != nil {
		half := p.half
		p.half = false
		p.done()
		b.endGlimpse(nil)
		then(*a.first)
		if half { // what stood there before was let go of
			b.openPlanPicture()
		}
		return
	}
	p.view.settle()
	then(*a.first)
	b.endGlimpse(a.first.pyramid) // a question stands before it is used
}

// ended takes the end of an opening whose picture was shown.
func (b *Bench) ended(o *opening, e ending) {
	p := &b.picture
	l, then, revert, made := *o.shown(), p.then, p.revert, p.made
	p.half = p.half && p.pyramid == nil // a question may still wait
	p.done()
	switch {
	case e.changed:
		b.takeBack(l, revert)
		b.load(l.path, o.want, true, then)
	case e.err != nil && l.stored:
		p.kept = p.pyramid == l.pyramid
		b.fail(fmt.Errorf("the file cannot be read now, so an earlier copy is shown: %w", withName(l.path, e.err)))
		b.showQuality()
	case e.err != nil && (revert == nil || b.s.Plan() != made):
		b.takeOff(l, e.err)
	case e.err != nil:
		b.takeBack(l, revert)
		b.openPlanPictureAgain(l.path)
		b.refuseOpening("This picture cannot be opened", e.err)
	case p.pyramid == l.pyramid:
		b.say(openedWords(l))
		b.firstOpened(e)
		b.dropOpened(l.path)
		b.nextDropped(l.path)
	}
	b.probe.touch()
}

// takeOff removes a picture that turned out to be damaged after it was shown. The
// plan stays, with the changes made in the meantime.
func (b *Bench) takeOff(l loaded, err error) {
	was := b.picture.pyramid == l.pyramid
	b.takeBack(l, nil)
	b.openPlanPictureAgain(l.path)
	if was {
		err = fmt.Errorf("%w. The plan stays open without it; the calibration and the legs are kept", err)
	}
	b.refuseOpening("This picture was removed from the sheet", err)
}

func openedWords(l loaded) string {
	return fmt.Sprintf("Opened %s%s, %d × %d pixels.", pictureName(l.path), pageWords(l.header), l.header.Width, l.header.Height)
}

// giveUpOpening cancels the opening under way and restores the picture before.
func (b *Bench) giveUpOpening() {
	p := &b.picture
	if p.now == nil {
		b.say("Nothing is being opened.")
		return
	}
	o, revert, half := p.now, p.revert, p.half
	name := pictureName(o.path)
	p.giveUp()
	p.half = false
	d := b.sheets.drop
	b.sheets.queue, b.sheets.drop = nil, dropState{}
	b.endGlimpse(nil)
	if l := o.shown(); l != nil && l.err == nil {
		b.takeBack(*l, revert)
		b.openPlanPictureAgain(o.path)
	} else if half {
		b.openPlanPicture()
	}
	b.say(strings.TrimSpace("Cancelled: " + name + " was not opened. " + d.rest()))
}

// takeBack takes a picture off the sheet that was shown too soon, and takes
// back what its opening did to the plan.
func (b *Bench) takeBack(l loaded, revert func()) {
	if b.picture.pyramid == l.pyramid {
		b.dropPicture()
		b.sheetP.PictureChanged()
	} else {
		go l.pyramid.Close()
	}
	if revert != nil {
		revert()
	}
	b.refreshAll()
}

// openPlanPictureAgain opens the plan's picture, unless that is the one that
// just failed.
func (b *Bench) openPlanPictureAgain(failed string) {
	if sheet, ok := b.s.Sheet(); ok && sheet.Picture != failed {
		b.openPlanPicture()
	}
}
