package georef

import (
	"errors"
	"fmt"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/scan"
)

// Georeference is what a file says about where its picture lies. It proves nothing:
// a file can be as wrong as a click.
type Georeference struct {
	// Source says for people what said it, such as "GeoTIFF keys" or "PDF
	// viewport (ISO 32000)".
	Source string
	// System is the grid, nil where the file names none that is known; Unknown
	// then says in a sentence what it named.
	System  *geodesy.System
	Unknown string
	// Matrix takes the picture as shown to the grid in metres, in the corner
	// convention and the order of World; nil where the file gives points.
	Matrix *[6]float64
	// Points serve where no matrix does, in metres of System.
	Points []calib.ControlPoint
	// SigmaM is the standard deviation per axis that the file states or that
	// follows from its figures, in metres; 0 where nothing is known.
	SigmaM float64
	// States says that the file itself states SigmaM.
	States bool
	// Cautions are those of the picture's header, where the place is beside it.
	Cautions string
	// Notes are sentences for people.
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
		return calib.FromMatrix(*p.Matrix, p.SigmaM)
	}
	return calib.Fit(p.Points, calib.Options{Medium: p.Medium(), Width: h.Width, Height: h.Height, SharedM: p.SigmaM})
}

// Medium is that of the fit through Points. A file's picture may be stretched
// and askew in any way, as a photograph's may.
func (p *Georeference) Medium() calib.Medium {
	if len(p.Points) < 4 {
		return calib.Scan
	}
	return calib.Photograph
}

// unusable says why a place cannot be used. What to do about a code that is not
// in the catalogue, when one is typed, is no help about a file.
func unusable(err error) string {
	var u *geodesy.UnknownSystem
	if errors.As(err, &u) {
		return fmt.Sprintf("the file names its grid by a code alone, EPSG:%d, which is not in the catalogue", u.EPSG)
	}
	return err.Error()
}
