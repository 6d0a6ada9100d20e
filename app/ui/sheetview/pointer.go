package sheetview

import (
	"fmt"

	"legwright/app/caution"
	"legwright/app/ui/foot"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// pointer writes the position under the pointer into the foot line.
type pointer struct {
	*sheet
	inside bool          // it is over the sheet
	last   view.ScreenPt // and where
}

// hover shows where the pointer is, or that it left the sheet.
func (p *pointer) hover(at tool.Spot, inside bool) {
	if !inside {
		p.forget()
		return
	}
	p.at(at.At)
}

// at shows the position of a point of the picture.
func (p *pointer) at(at view.PicPt) {
	p.follow(at)
	p.again()
}

// follow remembers where the pointer is; again then shows it.
func (p *pointer) follow(at view.PicPt) { p.inside, p.last = true, p.area.View().ToScreen(at) }

// again reads where the pointer was last: the view or the calibration may be
// another one, and no reference of the one before may stay.
func (p *pointer) again() {
	if !p.inside || p.state == preview {
		return
	}
	at := p.area.View().ToPicture(p.last)
	ref, latlon := p.words(at)
	p.line.SetPointer(foot.Pointer{Ref: ref, LatLon: latlon, Stopped: caution.Stops(p.cautionsAt(at), caution.Position)})
}

// forget empties the foot line's reference.
func (p *pointer) forget() {
	p.inside = false
	p.line.SetPointer(foot.Pointer{})
}

// showScale keeps the foot line's scale bar right.
func (p *pointer) showScale() {
	metresPerPx := 0.0
	if c, err := p.s.Calibration(); err == nil && p.state != preview && p.area.View().Scale() > 0 {
		metresPerPx = c.MetresPerPixel() / p.area.View().Scale()
	}
	p.line.SetScale(metresPerPx)
}

// cautionsAt returns what speaks against what is read at a point of the sheet.
func (s *sheet) cautionsAt(at view.PicPt) []caution.Caution {
	pos, err := s.s.PositionAt(PicturePt(at), s.pickSigma())
	if err != nil {
		return nil
	}
	return s.s.Reader().CautionsOf(pos)
}

// words writes the grid reference, the height where terrain has it, and the latitude and
// longitude of a point of the sheet, with no digit that is not known, or its pixel while there is no
// calibration.
func (s *sheet) words(at view.PicPt) (ref, latlon string) {
	pos, err := s.s.PositionAt(PicturePt(at), s.pickSigma())
	if err != nil {
		return fmt.Sprintf("col %.0f, row %.0f", at.X, at.Y), ""
	}
	r := s.s.Reader()
	if ref, err = r.Reference(pos); err != nil {
		ref = "off the grid"
	}
	if h, ok := r.HeightAt(pos); ok {
		ref += fmt.Sprintf(", %.0f m high", h)
	}
	if latlon, err = r.LatLon(pos); err != nil {
		latlon = ""
	}
	return ref, latlon
}
