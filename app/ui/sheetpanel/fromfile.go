package sheetpanel

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ui/foot"
	"legwright/mapio/georef"
)

// mostFilePoints is how many points of a file are used as control points.
const mostFilePoints = 64

// TakeFile hears what the file of the picture that is now shown says about where it
// lies. First says that the picture came into the plan just now: then a sheet that has
// no calibration gets the file's, and stays unchecked.
func (p *Panel) TakeFile(says georef.Found, first bool) {
	g := says.Georeference
	p.points.georef.says = g
	defer p.Refresh()
	sheet, ok := p.n.Session.Sheet()
	if !first || !ok || len(sheet.Points) > 0 || sheet.World != nil {
		return
	}
	switch {
	case says.WantsGrid():
		p.askFileGrid(says)
	case g != nil && g.System != nil:
		p.useFile(*g)
	case g != nil:
		p.n.Ask.Tell("The position in the file cannot be used", unknown(g)+" Calibrate from the printed grid instead.")
	}
}

// unknown says what a file without a known grid named instead.
func unknown(g *georef.Georeference) string {
	return foot.SentenceOf(strings.Join(append([]string{g.Unknown}, g.Notes...), "; "))
}

// useFile calibrates the sheet by what its file says.
func (p *Panel) useFile(g georef.Georeference) {
	n, done := p.n, fmt.Sprintf("Calibrated from %s, on %s. The sheet is unchecked until you compare it with a known feature.", g.Source, g.System.Name())
	if list := caution.Parse(g.Cautions); len(list) > 0 { // as after rectifying a sheet with cautions
		done = "Cautions about the picture: " + strings.Join(caution.Shorts(list), ", ") + "."
	}
	switch {
	case g.Matrix != nil:
		n.Foot.Try(n.Session.TakeGeoref(*g.Matrix, g.SigmaM, g.System.Code(), g.Cautions), done)
	case len(g.Points) > mostFilePoints:
		n.Ask.Tell("The file has too many reference points", fmt.Sprintf(
			"The file gives %d points; up to %d can be used. Calibrate from the printed grid instead.", len(g.Points), mostFilePoints))
	case len(g.Points) > 0:
		n.Foot.Try(n.Session.TakeGeorefPoints(g.Points, g.SigmaM, g.System.Code(), g.Medium(), g.Cautions), done)
	}
	if len(g.Notes) > 0 {
		n.Ask.Tell("About the position in the file", foot.SentenceOf(strings.Join(g.Notes, "; ")))
	}
}

// askFileGrid asks for the grid that the figures of a file are on.
func (p *Panel) askFileGrid(says georef.Found) {
	why := says.WorldFile + " gives the position of the picture, but not its grid."
	if says.World == nil {
		why = unknown(says.Georeference)
	}
	text := why + " To use the position, choose its grid. Otherwise cancel, and calibrate from the printed grid."
	p.n.Ask.Grid("Which grid is the file on?", text, p.n.folder(), func(code geodesy.Code) {
		sys, err := geodesy.Lookup(code)
		if err != nil {
			p.n.Foot.Fail(err)
			return
		}
		g, err := says.On(sys)
		if err != nil {
			p.n.Ask.Refuse("The position cannot be used on this grid", err)
			return
		}
		p.points.georef.says = g
		p.useFile(*g)
	})
}
