package ui

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"math"
	"slices"

	"legwright/app/ui/sheetview"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/math/f64"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/aim"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/canvas/alike"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// beside is the picture of another sheet around a mark, to be compared with what lies
// under the hairlines.
type beside struct {
	b      *Bench
	body   *fyne.Container // the picture and whose it is
	look   *aim.Beside
	whose  *widget.Label
	mark   plan.Mark
	patch  *pyramid.Pyramid // around the mark, or nil
	at     view.PicPt       // of the mark in the patch
	why    string           // there is no patch
	cancel context.CancelFunc
}

// mostScale is how many times one sheet's scale may be the other's: prints that differ
// more show other things (common practice, no source).
const mostScale = 2

// take reads the picture around a mark away from the window; then is called on the main
// thread.
func (s *beside) take(m plan.Mark, then func()) {
	s.clear()
	s.mark = m
	sheet, _ := s.b.s.Plan().SheetByID(m.Position.Sheet)
	if slices.Contains(s.b.outside.ask, sheet.Picture) {
		s.why = "The picture of " + s.name() + " lies outside the plan's folder and was not opened yet. Show that sheet once, then compare."
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.cancel = cancel
	from := s.b.picture.source
	go func() {
		img, at, err := from.around(ctx, sheet, m.Position.At)
		var patch *pyramid.Pyramid
		if err == nil {
			patch = pyramid.New(img, pyramid.Options{})
			err = patch.WaitWhole()
		}
		s.b.later(func() {
			switch {
			case ctx.Err() != nil && patch != nil:
				patch.Close()
				return
			case ctx.Err() != nil:
				return
			case err != nil:
				s.why = fmt.Sprintf("The picture of %s is not at hand, so the two sheets cannot be compared. %s", s.name(), foot.Sentence(err))
			default:
				s.patch, s.at = patch, at
				s.patch.SetLook(s.b.set.pictureLook())
			}
			then()
		})
	}()
}

// name is that of the sheet that the mark is on.
func (s *beside) name() string { return s.b.s.Plan().SheetName(s.mark.Position.Sheet) }

func newBeside(b *Bench) *beside {
	s := &beside{b: b, look: aim.NewBeside(), whose: widgets.NewQuiet("")}
	s.whose.Truncation = fyne.TextTruncateEllipsis
	s.body = container.NewVBox(s.look, s.whose)
	return s
}

// show shows the picture, turned and scaled as the sheet in hand lies about here.
func (s *beside) show(on bool, here view.PicPt) {
	visible(s.body, on)
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

func (s *beside) clear() {
	if s.cancel != nil {
		s.cancel()
	}
	if s.patch != nil {
		s.look.Look(nil, [4]float64{}, view.PicPt{})
		s.patch.Close()
	}
	s.mark, s.patch, s.at, s.why, s.cancel = plan.Mark{}, nil, view.PicPt{}, "", nil
}

// around reads the picture of a sheet around a place: from the store, or else from its
// file, whose hash must be the sheet's. at is the place in what is returned.
func (s *source) around(ctx context.Context, sheet plan.Sheet, place calib.PicturePt) (img *image.RGBA, at view.PicPt, err error) {
	raw, err := hex.DecodeString(sheet.SHA256)
	if err != nil || len(raw) != sha256.Size {
		return nil, at, errors.New("the plan does not say which picture it is")
	}
	corner := image.Pt(int(place.Col)-pyramid.MaxCrop/2, int(place.Row)-pyramid.MaxCrop/2)
	box := image.Rectangle{Min: corner, Max: corner.Add(image.Pt(pyramid.MaxCrop, pyramid.MaxCrop))}
	at = view.PicPt{X: place.Col - float64(corner.X), Y: place.Row - float64(corner.Y)}
	key := pageKey([32]byte(raw), sheet.Page)
	if s.store != nil {
		if kept, err := s.store.Open(key, pyramid.Options{}); err == nil {
			defer kept.Close()
			return kept.Crop(box), at, nil
		}
	}
	whole, err := s.again(ctx, sheet.Picture, sheet.Page, key)
	if err != nil {
		return nil, at, err
	}
	img = image.NewRGBA(image.Rectangle{Max: box.Size()})
	in := box.Intersect(whole.Bounds())
	draw.Draw(img, in.Sub(corner), whole, in.Min, draw.Src)
	return img, at, nil
}

// turn takes a displacement in pixels of the sheet in hand to one of the other sheet,
// row by row, by both calibrations where the two features lie.
func (s *beside) turn(here calib.PicturePt) ([4]float64, error) {
	c, err := s.b.s.Calibration()
	if err != nil {
		return [4]float64{}, err
	}
	other, err := s.b.s.Reader().CalibrationOf(s.mark.Position.Sheet)
	if err != nil {
		return [4]float64{}, err
	}
	a, b := metresPerPx(c, here), metresPerPx(other, s.mark.Position.At)
	det := b[0]*b[3] - b[1]*b[2]
	if det == 0 {
		return [4]float64{}, errors.New("the other sheet has no scale")
	}
	return [4]float64{
		(b[3]*a[0] - b[1]*a[2]) / det, (b[3]*a[1] - b[1]*a[3]) / det,
		(b[0]*a[2] - b[2]*a[0]) / det, (b[0]*a[3] - b[2]*a[1]) / det,
	}, nil
}

// metresPerPx takes a displacement in pixels about a place to metres east and north, row
// by row.
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
	if s.why != "" {
		return errors.New(s.why)
	}
	if s.patch == nil {
		return fmt.Errorf("the picture of %s is still being read: try again in a moment", s.name())
	}
	turn, err := s.turn(sheetview.PicturePt(here))
	if err != nil {
		return err
	}
	times := math.Sqrt(math.Abs(turn[0]*turn[3] - turn[1]*turn[2]))
	if !(times <= mostScale && times >= 1.0/mostScale) {
		return fmt.Errorf("the scales of the two sheets differ too much to compare them: check this sheet by its margin")
	}
	like, err := s.likeness(here, turn, math.Max(1, 1/times))
	switch {
	case errors.Is(err, alike.ErrBlank):
		return errors.New("too little is drawn around this place to compare the two sheets: use a mark beside paths, streams or contours, away from the border")
	case err != nil:
		return errors.New("the picture is still being read: try again in a moment")
	case like < alike.Least:
		return fmt.Errorf("this sheet does not show here what %s shows at %s: click the same feature on both", s.name(), s.mark.Name)
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
	if err := cut(s.b.picture.pyramid, one, [4]float64{1, 0, 0, 1}, here); err != nil {
		return 0, err
	}
	if err := cut(s.patch, other, turn, s.at); err != nil {
		return 0, err
	}
	return alike.Likeness(one, other)
}
