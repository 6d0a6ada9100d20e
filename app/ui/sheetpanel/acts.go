package sheetpanel

import (
	"path/filepath"

	"legwright/app/geodesy"
	"legwright/app/ui/ask"
)

// FirstAct does the first act that the panel offers while nothing is aimed at, and
// reports whether there is one: Return on the map does it.
func (p *Panel) FirstAct() bool {
	if !p.shown || p.points.form.on || !p.points.grid.take.Visible() || !p.points.grid.row.Visible() {
		return false
	}
	p.points.grid.Take()
	return true
}

// Escape cancels the nearest thing: the position aimed at, then the search for the
// printed grid or the grid found. It reports whether there was one.
func (p *Panel) Escape() bool {
	if p.points.form.on {
		p.points.Cancel()
		return true
	}
	return p.shown && p.points.grid.Discard()
}

// Compares reports whether another sheet's picture stands beside the enlargement, or
// cannot.
func (p *Panel) Compares() bool { return p.points.evidence.beside.ready() }

// ChooseGrid asks for the grid of the sheet.
func (p *Panel) ChooseGrid() {
	if _, ok := p.n.Session.Sheet(); !ok {
		p.n.Foot.Say("Open the picture of a map first.")
		return
	}
	p.n.Ask.Grid("The grid of the sheet", "", p.n.folder(), func(code geodesy.Code) {
		p.n.Foot.Try(p.n.Session.SetGrid(code), ask.GridChosen(code))
	})
}

// folder is that of the picture shown, where the definition of its grid may lie.
func (n *Needs) folder() string { return filepath.Dir(n.Session.PicturePath()) }
