package ui

import (
	"legwright/app/plan"
	"legwright/canvas/view"
)

// sheetsState is what the bench remembers of the sheets of a plan. Only the
// one in hand has its picture in memory; the others come back from the store.
type sheetsState struct {
	views  map[pictureID]view.View // where one looked on each picture
	opened map[openedSheet]bool    // those that were opened since the plan was
	arrive func()                  // what to do once the sheet in hand is shown
	queue  []string                // pictures that were dropped together, the first being opened
	drop   dropState               // what becomes of files that were dropped together
}

// pictureID is a picture: the hash of its file, and the page of a document.
type pictureID struct {
	sha  string
	page plan.Page
}

// openedSheet is a sheet with the picture it has.
type openedSheet struct {
	sheet   plan.ID
	picture pictureID
}

// firstOpened tells what is to be told of a picture, and calibrates its sheet
// by what its file says: once, not each time that the sheet comes back, for a
// calibration that was undone is not to be made again.
func (b *Bench) firstOpened(e ending) {
	sheet, _ := b.s.Sheet()
	key := openedSheet{sheet.ID, pictureID{b.picture.sha, b.picture.page}}
	if b.sheets.opened[key] {
		b.sheetP.TakeFile(b.fileSays(e), false)
		return
	}
	if b.sheets.opened == nil {
		b.sheets.opened = map[openedSheet]bool{}
	}
	b.sheets.opened[key] = true
	b.tellWarnings(e.scan)
	b.sheetP.TakeFile(b.fileSays(e), true)
}

// keepView remembers where one looks on the picture that is shown.
func (b *Bench) keepView() {
	p := &b.picture
	if p.pyramid == nil || p.sha == "" || b.sheet.View().IsZero() {
		return
	}
	if b.sheets.views == nil {
		b.sheets.views = map[pictureID]view.View{}
	}
	b.sheets.views[pictureID{p.sha, p.page}] = b.sheet.View()
}

// lookAgain looks where one looked on the picture last, where the plan has
// several, and does what waited for it.
func (b *Bench) lookAgain() {
	p := &b.picture
	if v, ok := b.sheets.views[pictureID{p.sha, p.page}]; ok && len(b.s.Plan().Sheets) > 1 {
		b.sheet.SetView(v)
	}
	if then := b.sheets.arrive; then != nil {
		b.sheets.arrive = nil
		then()
	}
}
