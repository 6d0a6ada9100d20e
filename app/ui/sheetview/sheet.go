package sheetview

import (
	"errors"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/units"
	"legwright/canvas/mapview"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// state says what may be done with the picture that is shown.
type state int

const (
	empty   state = iota // there is none
	preview              // it may be another picture than the plan's: it may be looked at
	usable
)

// sheet is the sheet as it is shown, and turns points of the picture into positions.
type sheet struct {
	s       *session.Session
	area    *mapview.MapView
	line    *foot.Line
	picture *pyramid.Pyramid
	state   state

	concealed bool // nothing shows that tells a bearing or a length
}

// PicturePt is a point of the view as calibrations take it.
func PicturePt(p view.PicPt) calib.PicturePt { return calib.PicturePt{Col: p.X, Row: p.Y} }

// ViewPt is a point of a calibration as views take it.
func ViewPt(p calib.PicturePt) view.PicPt { return view.PicPt{X: p.Col, Y: p.Row} }

// pointerSigmaPx is how well a pointer hits, in screen pixels, one standard
// deviation per axis.
const pointerSigmaPx = 0.5

// pickSigma is the pointer's σ per axis at the present zoom, in picture pixels.
func (s *sheet) pickSigma() float64 {
	if scale := s.area.View().Scale(); scale > 0 {
		return pointerSigmaPx / scale
	}
	return pointerSigmaPx
}

// focus gives the keyboard to the sheet.
func (s *sheet) focus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(s.area); c != nil {
		c.Focus(s.area)
	}
}

// inArea is where a point of the picture is seen, in units of the window from the
// corner of the map area.
func (s *sheet) inArea(at view.PicPt) fyne.Position {
	p, scale := s.area.View().ToScreen(at), float64(1)
	if c := fyne.CurrentApp().Driver().CanvasForObject(s.area); c != nil {
		scale = float64(c.Scale())
	}
	return fyne.NewPos(float32(p.X/scale), float32(p.Y/scale))
}

// errBeyondEdge says that something was to be set off the picture: what lies there
// is drawn from other sheets or references, and no feature shows its position.
var errBeyondEdge = errors.New("that is off the edge of the map: show the sheet that covers that position, or type its reference")

// positionAt returns the position of a point of the picture, picked with the
// pointer. The error is that of session.PositionAt, or says that the point lies
// off the picture.
func (s *sheet) positionAt(at view.PicPt) (plan.Position, error) {
	if sheet, ok := s.s.Sheet(); ok && !(at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height)) {
		return plan.Position{}, errBeyondEdge
	}
	return s.s.PositionAt(PicturePt(at), s.pickSigma())
}

// endAt returns the end that a spot means: the point of a thing it snapped to, else
// its own position.
func (s *sheet) endAt(at tool.Spot) (plan.End, error) {
	if t, ok := s.s.Plan().ThingByID(at.Target.ID); ok && at.Target.Part == tool.Point && at.Target.Index < len(t.Points) {
		return t.Points[at.Target.Index], nil
	}
	pos, err := s.s.PositionAt(PicturePt(at.At), s.pickSigma())
	return plan.AtPosition(pos), err
}

// circle is how the party's compass is graduated.
func (s *sheet) circle() units.Circle { return s.s.Plan().Party.Compass.Circle }
