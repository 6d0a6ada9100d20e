package sheetpanel

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// setup is what a sheet is besides its points: its grid and how the picture was made.
type setup struct {
	n      *Needs
	body   *fyne.Container
	grid   *widgets.Tool
	medium *widgets.Chooser
	means  *widgets.Sentence // what the medium means for the sheet
	finder *widgets.Tool
}

func newSetup(n *Needs, find, choose func()) *setup {
	s := &setup{n: n, means: widgets.NewSentence("", widgets.Note)}
	s.grid = n.tool(look.IconSearch, "", "Choose the grid of the sheet", choose)
	s.finder = n.tool(look.IconSearch, "", "Find the printed grid lines in the picture: name one intersection, and the others are named from it  (Ctrl+R)", find)
	s.medium = widgets.NewChooser([]string{"Scan", "Photograph", "Drawn"}, func(i int) { n.Foot.Try(n.Session.SetMedium(media()[i]), "") })
	s.body = container.NewVBox(widgets.NewHeading("Map"),
		container.NewBorder(nil, nil, widget.NewLabel("Grid"), nil, s.grid),
		s.medium, s.means, s.finder)
	return s
}

// media are how a picture may have been made, in the chooser's order.
func media() []calib.Medium { return []calib.Medium{calib.Scan, calib.Photograph, calib.Drawn} }

// show shows a sheet; byFile says that a file gives its position.
func (s *setup) show(sheet plan.Sheet, byFile bool) {
	text := "guessed from the first reference"
	if sheet.Code != "" {
		text = string(sheet.Code)
		if sys, err := s.n.Session.Reader().SystemOf(sheet.Code); err == nil {
			text = sys.Name()
		}
	}
	s.grid.SetText(text)
	s.medium.SetChosen(slices.Index(media(), sheet.Medium))
	s.means.Set(mediumWords(sheet.Medium), widgets.Note)
	show(s.medium, !sheet.ByMatrix())
	show(s.means, !sheet.ByMatrix())
	s.finder.SetText("Find the printed grid")
	if byFile {
		s.finder.SetText("Check against the printed grid")
	}
}

// mediumWords say in a line what a medium means for the sheet.
func mediumWords(m calib.Medium) string {
	switch m {
	case calib.Photograph:
		return "A photograph needs four control points, near the map's corners."
	case calib.Drawn:
		return "A page or picture made by a program: nothing has stretched."
	}
	return "Scanned paper has stretched and bent a little; the ± allows for it."
}
