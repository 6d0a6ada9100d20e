package ui

import (
	"time"

	"legwright/app/plan"
	"legwright/app/ui/files"
	"legwright/app/ui/opening"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// pictures is the window as the desk that opens pictures knows it: it shows the picture
// and how far it is, and passes on what came of it and what must be asked.
type pictures struct {
	b       *Bench
	shown   opening.Picture         // the latest that could be worked on; zero: none
	looked  map[pictureID]view.View // where the person looked on each picture of the plan
	seek    sought                  // waits for its sheet
	view    *progressView           // of the opening under way, or nil
	begun   time.Time               // that opening
	tiles   *pyramid.Pyramid        // what the sheet shows
	preview bool                    // it may only be looked at
}

// pictureID is a picture: the hash of its file, and the page of a document.
type pictureID struct {
	sha  string
	page plan.Page
}

// sought is a thing to be brought into view once its sheet is shown.
type sought struct{ thing, sheet plan.ID }

// previewSide is how large a preview must be to look sharp in the window, in pixels.
func (p *pictures) previewSide() int {
	c := p.b.window.Canvas()
	s := c.Size()
	return int(max(s.Width, s.Height) * c.Scale())
}

// Show puts on the sheet what the desk says.
func (p *pictures) Show(s opening.Shown) {
	b := p.b
	p.keepView()
	p.shown = opening.Picture{}
	var tiles *pyramid.Pyramid
	if s.Picture != nil {
		tiles = s.Picture.Pyramid
		tiles.SetLook(b.program.set.pictureLook())
		if !s.Preview {
			p.shown = *s.Picture
		}
	}
	other := p.tiles != tiles
	if other || p.preview != s.Preview {
		p.tiles, p.preview = tiles, s.Preview
		b.view.ShowPicture(tiles, s.Preview)
		b.teach.projector.ShowPicture(tiles, s.Preview)
	}
	if other {
		b.sheetP.PictureChanged()
	}
	b.sheetP.Refresh()
	if p.view != nil && s.Picture != nil {
		p.view.toStrip()
	}
	switch {
	case s.Preview:
		b.foot.Say("Reading " + s.Picture.Name() + "…")
	case s.Picture != nil:
		p.arrived(s)
	}
	b.pictureChanged()
}

// arrived does what waits for a picture that can be worked on.
func (p *pictures) arrived(s opening.Shown) {
	b := p.b
	if v, ok := p.looked[pictureID{s.Picture.SHA256, s.Picture.Page}]; ok && len(b.s.Plan().Sheets) > 1 {
		b.view.Area().SetView(v)
	}
	if b.frame.welcome.body.Visible() && s.Picture.Path != opening.DemoPicture {
		b.frame.welcome.close() // it speaks of the demo's ground
	}
	switch {
	case s.Fresh && s.Use == opening.Found:
		b.foot.Say("Using " + s.Picture.Name() + ".")
	case s.Fresh:
		b.files.Settings.Remember(s.Picture.Path)
		b.goTo(panelSheet)
		b.foot.Say(files.OpenedWords(s.Picture))
	}
	seek := p.seek
	p.seek = sought{}
	if sheet, ok := b.s.Sheet(); ok && seek.sheet == sheet.ID && seek.thing != "" {
		b.route.Find(seek.thing)
	}
}

// keepView remembers where the person looks on the picture that is shown.
func (p *pictures) keepView() {
	if p.shown.SHA256 == "" || p.b.view.Area().View().IsZero() {
		return
	}
	if p.looked == nil {
		p.looked = map[pictureID]view.View{}
	}
	p.looked[pictureID{p.shown.SHA256, p.shown.Page}] = p.b.view.Area().View()
}

// sharper draws a level again that has become sharper.
func (p *pictures) sharper(level int) {
	b := p.b
	b.view.Area().PictureChanged(level)
	b.teach.projector.PictureChanged(level)
	if level == 0 {
		b.sheetP.LevelReady()
	}
	b.program.probe.touch()
}

// Progress shows how far the opening under way is.
func (p *pictures) Progress() {
	j, ok := p.b.desk.Job()
	switch {
	case !ok:
		p.view.close()
		p.view = nil
		p.b.pictureChanged()
		return
	case p.view == nil || p.begun != j.Begun:
		p.view.close()
		p.begun = j.Begun
		p.view = newProgressView(p.b, j.Title, func() { p.b.desk.Cancel() })
		p.b.pictureChanged()
	}
	p.view.tell(j.Progress)
}

// Tell says what came of an opening.
func (p *pictures) Tell(r opening.Report) (asks bool) {
	asks = p.b.files.Pictures.Tell(r)
	p.b.notePicture()
	p.b.program.probe.touch()
	return asks
}

// Ask puts the desk's question, or takes it away.
func (p *pictures) Ask(q opening.Question) { p.b.files.Pictures.Ask(q) }

// Shown is the picture on the sheet that can be worked on; zero for none.
func (b *Bench) Shown() opening.Picture { return b.pictures.shown }

// openingPicture reports whether a picture is being opened.
func (b *Bench) openingPicture() bool {
	_, ok := b.desk.Job()
	return ok
}
