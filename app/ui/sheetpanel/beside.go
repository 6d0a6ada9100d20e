package sheetpanel

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"golang.org/x/image/math/f64"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/aim"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/canvas/alike"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// beside is the picture of another sheet around a mark, to be compared with what lies
// under the hairlines.
type beside struct {
	n     *Needs
	body  *fyne.Container // the picture and whose it is
	look  *aim.Beside
	whose *widgets.Quiet
	mark  plan.Mark
	patch *pyramid.Pyramid // around the mark, or nil
	at    view.PicPt       // of the mark in the patch
	why   string           // there is no patch
	work  *jobs.Slot       // reads it
}

func newBeside(n *Needs) *beside {
	s := &beside{n: n, look: aim.NewBeside(), whose: widgets.NewQuiet(""), work: jobs.NewSlot(n.Later)}
	s.whose.Truncation = fyne.TextTruncateEllipsis
	s.body = container.NewVBox(s.look, s.whose)
	return s
}

// mostScale is how many times one sheet's scale may be the other's: prints that differ
// more show other things (common practice, no source).
const mostScale = 2

// take reads the picture around a mark away from the window; then is called on the main
// thread.
func (s *beside) take(m plan.Mark, then func()) {
	s.clear()
	s.mark = m
	sheet, _ := s.n.Session.Plan().SheetByID(m.Position.Sheet)
	if s.n.Pictures.Withheld(sheet.Picture) {
		s.why = "The picture of " + s.name() + " is outside the plan's folder and has not been opened yet. Show that sheet once, then compare."
		return
	}
	var patch *pyramid.Pyramid
	var at view.PicPt
	s.work.Start("reading "+s.name(), func(ctx context.Context, _ func(jobs.Progress)) error {
		img, in, err := s.n.Pictures.Around(ctx, sheet, m.Position.At)
		if err != nil {
			return err
		}
		whole := pyramid.New(img, pyramid.Options{})
		if err = whole.WaitWhole(); err != nil || ctx.Err() != nil {
			whole.Close()
			return errors.Join(err, ctx.Err())
		}
		patch, at = whole, in
		return nil
	}, func(err error) {
		if err != nil {
			s.why = fmt.Sprintf("The picture of %s cannot be read, so the two sheets cannot be compared. %s", s.name(), sentence(err))
		} else {
			s.patch, s.at = patch, at
			s.patch.SetLook(s.n.Pictures.Look())
		}
		then()
	})
}

// name is that of the sheet that the mark is on.
func (s *beside) name() string { return s.n.Session.Plan().SheetName(s.mark.Position.Sheet) }

// show shows the picture, turned and scaled as the sheet in hand lies about here.
func (s *beside) show(on bool, here view.PicPt) {
	show(s.body, on)
	if !on {
		return
	}
	s.whose.SetText(s.name())
	turn, err := s.turn(sheetview.PicturePt(here))
	if s.patch == nil || err != nil {
		s.look.Look(nil, turn, s.at)
		return
	}
	s.look.Look(s.patch, turn, s.at)
}

// ready reports whether the picture is there, or cannot be read.
func (s *beside) ready() bool { return s.patch != nil || s.why != "" }

func (s *beside) clear() {
	s.work.Cancel()
	if s.patch != nil {
		s.look.Look(nil, [4]float64{}, view.PicPt{})
		s.patch.Close()
	}
	s.mark, s.patch, s.at, s.why = plan.Mark{}, nil, view.PicPt{}, ""
}

// turn takes a displacement in pixels of the sheet in hand to one of the other sheet,
// row by row, by both calibrations where the two features lie.
func (s *beside) turn(here calib.PicturePt) ([4]float64, error) {
	c, err := s.n.Session.Calibration()
	if err != nil {
		return [4]float64{}, err
	}
	other, err := s.n.Session.Reader().CalibrationOf(s.mark.Position.Sheet)
	if err != nil {
		return [4]float64{}, err
	}
	a, b := metresPerPx(c, here), metresPerPx(other, s.mark.Position.At)
	det := b[0]*b[3] - b[1]*b[2]
	if det == 0 {
		return [4]float64{}, errors.New("the other sheet has no scale: calibrate it again")
	}
	return [4]float64{
		(b[3]*a[0] - b[1]*a[2]) / det, (b[3]*a[1] - b[1]*a[3]) / det,
		(b[0]*a[2] - b[2]*a[0]) / det, (b[0]*a[3] - b[2]*a[1]) / det,
	}, nil
}

// metresPerPx takes a displacement in pixels about a position to metres east and north,
// row by row.
func metresPerPx(c *calib.Calibration, at calib.PicturePt) [4]float64 {
	const px = 20
	right, left := c.ToGrid(calib.PicturePt{Col: at.Col + px, Row: at.Row}), c.ToGrid(calib.PicturePt{Col: at.Col - px, Row: at.Row})
	down, up := c.ToGrid(calib.PicturePt{Col: at.Col, Row: at.Row + px}), c.ToGrid(calib.PicturePt{Col: at.Col, Row: at.Row - px})
	const span = 2 * px
	return [4]float64{(right.E - left.E) / span, (down.E - up.E) / span, (right.N - left.N) / span, (down.N - up.N) / span}
}

// compare says why what lies under the hairlines is not the feature that the other sheet
// shows at the mark; nil: it is.
func (s *beside) compare(here view.PicPt) error {
	switch {
	case s.mark.ID == "":
		return errors.New("first choose, under Same as, a mark on a feature that this sheet shows too")
	case s.why != "":
		return errors.New(s.why)
	case s.patch == nil:
		return fmt.Errorf("the picture of %s is still being read: try again in a moment", s.name())
	}
	turn, err := s.turn(sheetview.PicturePt(here))
	if err != nil {
		return err
	}
	times := math.Sqrt(math.Abs(turn[0]*turn[3] - turn[1]*turn[2]))
	if !(times <= mostScale && times >= 1.0/mostScale) {
		return errors.New("the scales of the two sheets differ too much to compare them: check this sheet with a reference from its margin instead")
	}
	like, err := s.likeness(here, turn, math.Max(1, 1/times))
	switch {
	case errors.Is(err, alike.ErrBlank):
		return errors.New("too little is drawn around this position to compare the two sheets: use a mark near paths, streams or contours, away from the border")
	case err != nil:
		return errors.New("the picture is still being read: try again in a moment")
	case like < alike.Least:
		return fmt.Errorf("what is under the hairlines is not what %s shows at %s: click that feature on this sheet", s.name(), s.mark.Name)
	}
	return nil
}

// likeness compares the two pictures at step pixels of the sheet in hand.
func (s *beside) likeness(here view.PicPt, turn [4]float64, step float64) (float64, error) {
	one := image.NewRGBA(image.Rect(0, 0, alike.Side, alike.Side))
	other := image.NewRGBA(image.Rect(0, 0, alike.SideOther, alike.SideOther))
	cut := func(from *pyramid.Pyramid, img *image.RGBA, turn [4]float64, at view.PicPt) error {
		var m f64.Aff3 = aim.Around(turn, step, at, img.Rect.Dx(), img.Rect.Dy())
		return from.Region(img, m, pyramid.Bilinear)
	}
	if err := cut(s.n.Pictures.Pyramid(), one, [4]float64{1, 0, 0, 1}, here); err != nil {
		return 0, err
	}
	if err := cut(s.patch, other, turn, s.at); err != nil {
		return 0, err
	}
	return alike.Likeness(one, other)
}
