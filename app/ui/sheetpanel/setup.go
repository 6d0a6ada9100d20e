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
// The latter stands above whatever changes its height, for the answer changes the verdict.
type setup struct {
	n      *Needs
	body   *fyne.Container
	made   *fyne.Container
	grid   *widgets.Tool
	named  string // the grid
	medium *widgets.Chooser
	means  *widgets.Quiet // what the medium means for the sheet
	finder *widgets.Tool
}

func newSetup(n *Needs, find, choose func()) *setup {
	s := &setup{n: n, means: widgets.NewQuiet("")}
	s.grid = n.tool(look.IconSearch, "", "Choose the grid of the sheet", choose)
	s.finder = n.tool(look.IconSearch, "", "", find)
	s.medium = widgets.NewChooser([]string{"Scan", "Photograph", "Drawn"}, func(i int) { n.Foot.Try(n.Session.SetMedium(media()[i]), "") })
	s.body = container.NewVBox(widgets.NewHeading("Map"),
		container.NewBorder(nil, nil, widget.NewLabel("Grid"), nil, s.grid), s.finder)
	s.made = container.NewVBox(s.medium, s.means)
	return s
}

// gridLabel is the room that the label of the grid takes in its row.
const gridLabel = float32(56)

// media are how a picture may have been made, in the chooser's order.
func media() []calib.Medium { return []calib.Medium{calib.Scan, calib.Photograph, calib.Drawn} }

// show shows a sheet; byFile says that a file gives its position, aiming that a position
// is aimed at.
func (s *setup) show(sheet plan.Sheet, byFile, aiming bool) {
	text := "guessed from the first point"
	if sheet.Code != "" {
		text = string(sheet.Code)
		if sys, err := s.n.Session.Reader().SystemOf(sheet.Code); err == nil {
			text = sys.Name()
		}
	}
	if s.named != text { // a name that needs more room than the row has would cover its label
		s.named = text
		cutTo(s.grid, text, widgets.RowWidth-gridLabel)
		s.grid.SetHint("Choose the grid of the sheet: " + text)
	}
	s.medium.SetChosen(slices.Index(media(), sheet.Medium))
	s.means.SetText(mediumWords(sheet.Medium))
	show(s.made, sheet.ID != "" && !sheet.ByMatrix() && !aiming)
	s.finder.SetText("Find the printed grid")
	s.finder.SetHint("Find the printed grid lines in the picture: name one intersection, and the others are named from it  (Ctrl+R)")
	if byFile {
		s.finder.SetText("Check against the printed grid")
		s.finder.SetHint("Compare the printed grid lines with the file's position  (Ctrl+R)")
	}
}

// mediumWords say in a line what a medium means for the sheet.
func mediumWords(m calib.Medium) string {
	switch m {
	case calib.Photograph:
		return "Needs five points: the corners and middle."
	case calib.Drawn:
		return "Drawn by a program: no paper has stretched."
	}
	return "Paper stretches; the ± allows for it."
}
