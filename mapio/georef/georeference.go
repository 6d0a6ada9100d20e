package georef

import (
	"errors"
	"fmt"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/scan"
)

// Georeference is what a file says about where its picture lies. It checks nothing: a file
// can be as wrong as a click.
type Georeference struct {
	// Source names for people what it comes from, such as "GeoTIFF keys" or "PDF
	// viewport (ISO 32000)".
	Source string
	// System is the grid, nil if the file names none that is known here; Unknown then
	// says why, in a sentence.
	System  *geodesy.System
	Unknown string
	// Matrix takes the picture as shown to the grid in metres, in the corner
	// convention and the order of World; nil if the file gives points instead.
	Matrix *[6]float64
	// Points are control points in metres of System, where there is no matrix.
	Points []calib.ControlPoint
	// SigmaM is the standard deviation per axis that the file states or that
	// follows from its figures, in metres; 0 if nothing is known.
	SigmaM float64
	// States says that the file itself states SigmaM.
	States bool
	// Cautions are those of the picture's header, if a world file places it.
	Cautions string
	// Notes are sentences for people: what to know about the georeference.
	Notes []string
}

// errNone says that nothing in the file places the picture.
var errNone = errors.New("the file does not say where the picture lies: set control points, or find its printed grid and name one grid intersection")

// Calibration returns the calibration by the file's georeference, for a picture
// with header h. The error says what the georeference lacks, or is that of the fit.
func (p *Georeference) Calibration(h scan.Header) (*calib.Calibration, error) {
	switch {
	case p == nil:
		return nil, errNone
	case p.System == nil:
		return nil, fmt.Errorf("the file's georeference cannot be used: %s", p.Unknown)
	case p.Matrix != nil:
		return calib.FromMatrix(*p.Matrix, p.SigmaM, calib.DrawnSigmaPx(h.PageDPI))
	}
	return calib.Fit(p.Points, calib.Options{Medium: p.Medium(), Width: h.Width, Height: h.Height, SharedM: p.SigmaM})
}

// Medium is the medium for the fit through Points: the picture of a file may be stretched
// and askew in any way, as a photograph may.
func (p *Georeference) Medium() calib.Medium {
	if len(p.Points) < 4 {
		return calib.Scan
	}
	return calib.Photograph
}

// unusable says why a georeference cannot be used. Of an unknown code it says less than
// the catalogue does: its advice is for a code that somebody types.
func unusable(err error) string {
	var u *geodesy.UnknownSystem
	if errors.As(err, &u) {
		return fmt.Sprintf("the file names its grid only by a code, EPSG:%d, which is not in the catalogue", u.EPSG)
	}
	return err.Error()
}
