package ui

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// openPicture is the picture that is shown, and the opening that is under way.
type openPicture struct {
	pyramid *pyramid.Pyramid
	glimpse *pyramid.Pyramid // shown in its stead until its hash is known, or nil
	path    string
	sha     string
	page    plan.Page
	header  scan.Header
	mark    [32]byte
	kept    bool // its file cannot be read: what is shown is from the store
	source  *source
	now     *opening        // under way, or nil
	then    func(loaded)    // what to do with what it shows
	revert  func()          // takes back what the opening under way did to the plan; may be nil
	half    bool            // what was shown before the opening has been let go of
	view    *progressView   // of the opening under way, or nil
	early   *opening        // begun before the window, until the first opening
	faults  map[string]bool // of the store that have been told
}

// letGoAbove is the memory of a picture, in bytes, above which it is let go of
// before another one is decoded.
const letGoAbove = 64 << 20

// giveUp ends the opening under way, if there is one, without a word.
func (p *openPicture) giveUp() {
	if p.now == nil {
		return
	}
	p.now.cancel()
	p.half = p.half || p.now.shown() != nil
	p.done()
}

// done ends the opening under way as far as the bench is concerned.
func (p *openPicture) done() {
	p.now.cancel() // the context's resources
	p.view.close()
	p.now, p.view, p.then, p.revert = nil, nil, nil, nil
}

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
		b.sheetP.forget()
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
	l, then, revert := *o.shown(), p.then, p.revert
	p.half = p.half && p.pyramid == nil // a question may still wait
	p.done()
	switch {
	case e.changed:
		b.takeBack(l, revert)
		b.load(l.path, o.want, true, then)
	case e.err != nil && l.stored:
		p.kept = p.pyramid == l.pyramid
		b.fail(fmt.Errorf("%s cannot be read now; what is shown was kept from an earlier opening: %w", pictureName(l.path), e.err))
		b.showQuality()
	case e.err != nil:
		b.takeBack(l, revert)
		b.openPlanPictureAgain(l.path)
		b.refuse("This picture cannot be opened", e.err)
	case p.pyramid == l.pyramid:
		b.say(openedWords(l))
		b.firstOpened(e)
		b.verify(l, e.scan)
		b.nextDropped(l.path)
	case e.scan != nil:
		b.verify(l, e.scan)
	}
	b.probe.touch()
}

func openedWords(l loaded) string {
	return fmt.Sprintf("Opened %s%s, %d × %d pixels.", pictureName(l.path), pageWords(l.header), l.header.Width, l.header.Height)
}

// giveUpOpening gives the opening under way up, as its button says: what was
// there before comes back.
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
	b.sheets.queue = nil
	b.endGlimpse(nil)
	if l := o.shown(); l != nil && l.err == nil {
		b.takeBack(*l, revert)
		b.openPlanPictureAgain(o.path)
	} else if half {
		b.openPlanPicture()
	}
	b.say("Opening " + name + " was given up.")
}

// takeBack takes a picture off the sheet that was shown too soon, and takes
// back what its opening did to the plan.
func (b *Bench) takeBack(l loaded, revert func()) {
	if b.picture.pyramid == l.pyramid {
		b.dropPicture()
		b.sheetP.forget()
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

// show puts a picture on the sheet and closes the one before it.
func (b *Bench) show(l loaded) {
	p := &b.picture
	old := p.pyramid
	b.keepView()
	p.pyramid, p.path, p.sha, p.header, p.mark, p.kept = l.pyramid, l.path, l.sha(), l.header, l.mark, false
	p.page = l.page()
	p.pyramid.SetLook(b.set.pictureLook())
	if p.glimpse == l.pyramid {
		p.glimpse = nil // it stays as it is seen
		b.takeTool()
	} else {
		b.sheet.SetPicture(p.pyramid)
	}
	if old != p.pyramid {
		b.printed.forget()
	}
	if old != nil && old != p.pyramid {
		go old.Close()
	}
	b.sheetP.forget()
	b.lookAgain()
	if b.welcome.body.Visible() && !strings.HasPrefix(l.path, plan.EmbeddedPrefix) {
		b.endWelcome() // it speaks of the demo's ground
	}
}

// pictureChanged shows a level anew that was provisional.
func (b *Bench) pictureChanged(level int) {
	if b.picture.pyramid == nil && !b.glimpsed() {
		return
	}
	b.sheet.PictureChanged(level)
	if level == 0 && b.sheetP.on {
		b.sheetP.refresh() // the enlargement is of that level
	}
	b.probe.touch()
}

// storeFault tells once what went wrong with the store or with reading again.
func (b *Bench) storeFault(path string, err error) {
	if b.picture.faults[err.Error()] {
		return
	}
	if b.picture.faults == nil {
		b.picture.faults = map[string]bool{}
	}
	b.picture.faults[err.Error()] = true
	b.fail(fmt.Errorf("%s: %w", pictureName(path), err))
}

// verify looks for damage that the quick decoder passes over in silence, away
// from the window: slipped blocks would put the ground in the wrong place.
// What is whole is noted, so that it is known when it is opened again.
func (b *Bench) verify(l loaded, s *scan.Scan) {
	if s == nil {
		return
	}
	store := b.picture.source.store
	go func() {
		found, err := s.Verify(context.Background())
		switch {
		case err != nil:
		case len(found) > 0:
			b.later(func() {
				if b.picture.path == l.path {
					b.tell("The picture may be damaged", sentenceText(strings.Join(found, "; ")))
				}
			})
		case store != nil && len(s.Warnings) == 0 && !s.Truncated:
			store.Note(pageMark(l.mark, l.page()), l.picture)
		}
	}()
}

// dropPicture takes the picture off the sheet.
func (b *Bench) dropPicture() {
	p := &b.picture
	old := p.pyramid
	b.keepView()
	b.endGlimpse(nil)
	p.pyramid, p.path, p.sha, p.header, p.kept = nil, "", "", scan.Header{}, false
	b.sheet.SetPicture(nil)
	b.printed.forget()
	if old != nil {
		go old.Close()
	}
}

// clearPicture shows the empty state. A picture that is on its way was meant
// for what stood here before, and is given up.
func (b *Bench) clearPicture() {
	b.picture.giveUp()
	b.picture.half = false
	b.dropPicture()
	b.sheetP.forget()
}

// useSheet makes a picture the plan's sheet, in place of the one in hand. The
// demo's legs lie on invented ground and do not come along onto a person's own
// map.
func (b *Bench) useSheet(l loaded) {
	sheet, ok := b.s.Sheet()
	switch {
	case l.err != nil || !ok || !sheet.Embedded():
		b.sheetOf(l, b.s.OpenPage)
	case !b.s.Dirty():
		b.takeSheetAlone(l)
	default:
		b.question("The demo has been changed",
			"A new plan for your map begins without the demo's marks and legs, and what was changed in the demo is lost.", func() { b.leave(l) },
			answer{"Stay with the demo", func() { b.leave(l) }, false},
			answer{"New plan", func() { b.takeSheetAlone(l) }, true})
	}
}

// takeSheetAlone begins a new plan with a picture.
func (b *Bench) takeSheetAlone(l loaded) {
	b.s.NewPlan()
	b.endImport()
	b.takeSheet(l, b.s.OpenPage, b.openDemo)
}

// takeSheet makes a picture a sheet of the plan that is open. revert takes
// that back.
func (b *Bench) takeSheet(l loaded, take taking, revert func()) {
	b.s.Photographed(l.header.Photo)
	if err := take(l.path, l.page(), l.header.Width, l.header.Height, l.sha(), l.header.DPI); err != nil {
		b.leave(l)
		b.refuse("This picture cannot be opened", err)
		return
	}
	if b.picture.now != nil {
		b.picture.revert = revert
	}
	b.show(l)
	b.set.remember(l.path)
	b.goTo(postSheet)
	b.say(openedWords(l))
}

// tellWarnings says what is missing of a picture that opened all the same.
func (b *Bench) tellWarnings(s *scan.Scan) {
	if s != nil && len(s.Warnings) > 0 {
		b.tell("The picture opened, but", sentenceText(strings.Join(s.Warnings, "; ")))
	}
}

// offerWorld offers the calibration of a world file once its grid is named.
func (b *Bench) offerWorld(e ending) {
	if e.world == nil || e.place != nil && e.place.System != nil {
		return // the file or a .prj names the grid
	}
	if sheet, ok := b.s.Sheet(); !ok || len(sheet.Points) > 0 || sheet.World != nil {
		return
	}
	text := fmt.Sprintf("%s lies beside the picture and gives its place, but not on which grid. Name the grid to use it.", e.file)
	sigmaM := b.picture.header.PositionM
	b.chooseGrid("A world file was found", text, func(code geodesy.Code) {
		b.try(b.s.OfferWorld(e.world.Matrix(), sigmaM, code), "Calibrated from "+e.file+". The sheet stays unproved until a feature agrees.")
	})
}

// refuse shows an error in the middle of the window: what was asked for did
// not happen.
func (b *Bench) refuse(title string, err error) {
	b.fail(err)
	b.tell(title, sentence(err))
}

// errReplaced is told where a picture's file is not what was opened.
var errReplaced = errors.New("the picture's file has been changed since it was opened. The plan names the picture it was made on, and will ask when it is opened")

// checkPicture looks, away from the window, whether the picture's file is
// still the one that was opened, and tells where it is not. The plan stays as
// it is: its hash is that of the picture it was made on.
func (b *Bench) checkPicture() {
	p := &b.picture
	path, page, mark := p.path, p.page, p.mark
	if p.pyramid == nil || mark == ([32]byte{}) {
		return
	}
	go func() {
		fsys, name := pictureFS(path, page)
		now, err := scan.Mark(fsys, name)
		if err == nil && now != mark {
			err = errReplaced
		}
		if err != nil {
			b.later(func() {
				if b.picture.path == path {
					b.fail(fmt.Errorf("saved, but %s: %w", pictureName(path), err))
				}
			})
		}
	}()
}
