package ui

import (
	"errors"
	"fmt"
	"strings"
	"time"

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
	made    *plan.Plan      // the plan after that, to see later changes
	half    bool            // what was shown before the opening has been let go of
	view    *progressView   // of the opening under way, or nil
	early   *opening        // begun before the window, until the first opening
	faults  map[string]bool // of the store that have been told
}

// leaveWithin is how long the program waits at its end for pictures to close.
const leaveWithin = 5 * time.Second

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

// leave gives up what is being opened and closes all pictures: who ends in the
// midst of storing one leaves its unfinished file behind, a gigabyte of it.
func (p *openPicture) leave() {
	all := []*pyramid.Pyramid{p.pyramid, p.glimpse}
	for _, o := range []*opening{p.now, p.early} {
		if o == nil {
			continue
		}
		o.cancel()
		if l := o.shown(); l != nil {
			all = append(all, l.pyramid)
		}
	}
	p.giveUp()
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		for _, one := range all {
			if one != nil {
				one.Close()
			}
		}
	}()
	select {
	case <-closed:
	case <-time.After(leaveWithin): // a drive that does not answer
	}
}

// took notes how the opening under way changed the plan, and how to undo that.
func (p *openPicture) took(made *plan.Plan, revert func()) {
	if p.now != nil {
		p.revert, p.made = revert, made
	}
}

// done ends the opening under way as far as the bench is concerned.
func (p *openPicture) done() {
	p.now.cancel() // the context's resources
	p.view.close()
	p.now, p.view, p.then, p.revert, p.made = nil, nil, nil, nil, nil
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
	}
	b.view.ShowPicture(p.pyramid, false)
	if old != p.pyramid {
		b.sheetP.PictureChanged()
	}
	if old != nil && old != p.pyramid {
		go old.Close()
	}
	b.sheetP.Refresh()
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
	if level == 0 {
		b.sheetP.LevelReady()
	}
	b.probe.touch()
}

// storeFault shows each fault of the store, or of reading again, once.
func (b *Bench) storeFault(path string, err error) {
	if b.picture.faults[err.Error()] {
		return
	}
	if b.picture.faults == nil {
		b.picture.faults = map[string]bool{}
	}
	b.picture.faults[err.Error()] = true
	b.fail(withName(path, err))
}

// withName returns err with the picture's name in its text, once.
func withName(path string, err error) error {
	if name := pictureName(path); !strings.Contains(err.Error(), name) {
		return fmt.Errorf("%s: %w", name, err)
	}
	return err
}

// dropPicture takes the picture off the sheet.
func (b *Bench) dropPicture() {
	p := &b.picture
	old := p.pyramid
	b.keepView()
	b.endGlimpse(nil)
	p.pyramid, p.path, p.sha, p.header, p.kept = nil, "", "", scan.Header{}, false
	b.view.ShowPicture(nil, false)
	b.sheetP.PictureChanged()
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
}

// errReplaced is told where a picture's file is not what was opened.
var errReplaced = errors.New("the picture's file has been changed since it was opened. The plan names the picture it was made on, and will ask when it is opened")

// checkPicture looks, away from the window, whether the picture's file is
// still the one that was opened, and tells where it is not. The plan stays as
// it is: its hash is that of the picture it was made on.
func (b *Bench) checkPicture() {
	p := &b.picture
	path, page, mark, from := p.path, p.page, p.mark, p.source
	if p.pyramid == nil || mark == ([32]byte{}) {
		return
	}
	go func() {
		fsys, name := from.pictureFS(path, page)
		now, err := scan.Mark(fsys, name)
		if err == nil && now != mark {
			err = errReplaced
		}
		if err != nil {
			b.later(func() {
				if b.picture.path == path {
					b.fail(fmt.Errorf("saved, but %w", withName(path, err)))
				}
			})
		}
	}()
}
