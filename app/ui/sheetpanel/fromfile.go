package sheetpanel

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ui/foot"
	"legwright/mapio/georef"
)

// FileSays is what a picture's file, and a world file beside it, say about where the
// picture lies. The zero FileSays says nothing.
type FileSays struct {
	Georef    *georef.Georeference // nil: nothing
	World     *georef.World        // of a world file, which names no grid; nil: there is none
	WorldFile string               // its name
	PositionM float64              // σ per axis in metres that goes with a world file; 0: not known
	Cautions  string               // of the picture itself, see caution.Parse
}

// mostFilePoints is how many points of a file are used as control points.
const mostFilePoints = 64

// TakeFile hears what the file of the picture that is now shown says about where it
// lies. First says that the picture came into the plan just now: then a sheet that has
// no calibration gets the file's, and stays unchecked.
func (p *Panel) TakeFile(says FileSays, first bool) {
	p.points.georef.says = says.Georef
	defer p.Refresh()
	sheet, ok := p.n.Session.Sheet()
	if !first || !ok || len(sheet.Points) > 0 || sheet.World != nil {
		return
	}
	switch g := says.Georef; {
	case g != nil && g.System != nil:
		p.useFile(*g)
	case says.World != nil:
		p.askWorldGrid(says)
	case g != nil:
		p.askFileGrid(*g)
	}
}

// useFile calibrates the sheet by what its file says.
func (p *Panel) useFile(g georef.Georeference) {
	n, done := p.n, fmt.Sprintf("Calibrated from %s, on %s. Unchecked until you compare it with a known feature.", g.Source, g.System.Name())
	switch {
	case g.Matrix != nil:
		n.Foot.Try(n.Session.TakePlace(*g.Matrix, g.SigmaM, g.System.Code()), done)
	case len(g.Points) > mostFilePoints:
		n.Ask.Tell("The file has too many reference points", fmt.Sprintf(
			"It gives %d points; up to %d can be used. Calibrate by the printed grid instead.", len(g.Points), mostFilePoints))
	case len(g.Points) > 0:
		n.Foot.Try(n.Session.TakePlacePoints(g.Points, g.SigmaM, g.System.Code(), g.Medium()), done)
	}
	p.takeCautions(g.Cautions)
	if len(g.Notes) > 0 {
		n.Ask.Tell("About the position in the file", foot.SentenceOf(strings.Join(g.Notes, "; ")))
	}
}

// askFileGrid asks for the grid that a file's position is on, where the file names none
// that is known.
func (p *Panel) askFileGrid(g georef.Georeference) {
	why := foot.SentenceOf(strings.Join(append([]string{g.Unknown}, g.Notes...), "; "))
	if g.Matrix == nil && len(g.Points) == 0 {
		p.n.Ask.Tell("The position in the file cannot be used", why+" Calibrate by the printed grid instead.")
		return
	}
	p.n.Ask.Grid("Which grid is the file on?", why+" Name the grid to use the file's position, or cancel and calibrate by the printed grid.", p.n.folder(), func(code geodesy.Code) {
		sys, err := geodesy.Lookup(code)
		if err != nil {
			p.n.Foot.Fail(err)
			return
		}
		g.System, g.Notes = sys, nil
		p.points.georef.says = &g
		p.useFile(g)
	})
}

// askWorldGrid asks for the grid that a world file's figures are on.
func (p *Panel) askWorldGrid(says FileSays) {
	text := fmt.Sprintf("%s lies beside the picture and gives its position, but not the grid. Name the grid to use it, or cancel and calibrate by the printed grid.", says.WorldFile)
	p.n.Ask.Grid("A world file was found", text, p.n.folder(), func(code geodesy.Code) {
		p.n.Foot.Try(p.n.Session.OfferWorld(says.World.Matrix(), says.PositionM, code),
			"Calibrated from "+says.WorldFile+". Unchecked until you compare it with a known feature.")
		p.takeCautions(says.Cautions)
	})
}

// takeCautions keeps what a picture says against its own georeference, as one does that
// was rectified from a sheet with cautions.
func (p *Panel) takeCautions(text string) {
	list := caution.Parse(text)
	if len(list) == 0 || !p.sheet().RestsOnFile() {
		return
	}
	p.n.Foot.Try(p.n.Session.TakeFileCautions(text), "The picture carries cautions: "+strings.Join(caution.Shorts(list), ", ")+".")
}
