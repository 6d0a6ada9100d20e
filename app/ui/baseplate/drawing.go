package baseplate

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"

	"legwright/app/lettering"
	"legwright/app/ui/dial/housing"
	"legwright/app/ui/pen"
	"legwright/app/units"
)

// The side of a picture in pixels.
const (
	Smallest = 220
	Largest  = 4096
)

// ErrSize says that a picture was asked for outside Smallest to Largest.
var ErrSize = errors.New("baseplate: side out of range")

// Ink is the set of colours of a picture. Plate is translucent, all others are opaque.
type Ink struct {
	Housing             housing.Ink // its Plate may be translucent
	Map, Ground         color.NRGBA // below everything
	Grid, Line          color.NRGBA
	Text, Quiet, Casing color.NRGBA // of what is written; Casing stands round it
	Plate, Edge         color.NRGBA
	Wrong               color.NRGBA // what leads elsewhere, and a figure that nobody may walk on
}

// Drawing draws the compass at one size in one set of colours. It keeps its last picture
// and draws anew only when the view changes. It is not safe for concurrent use.
type Drawing struct {
	ink     *Ink
	pen     *pen.Pen
	letters *lettering.Setter
	face    *housing.Face
	out     *image.RGBA
	last    *View // as drawn; nil before the first time
}

// New returns a drawing of px by px pixels; px lies in Smallest to Largest, else the
// error wraps ErrSize.
func New(px int, ink Ink) (*Drawing, error) {
	if px < Smallest || px > Largest {
		return nil, fmt.Errorf("%w: %d pixels, want %d to %d", ErrSize, px, Smallest, Largest)
	}
	face, err := housing.New(int(faceRadius*float64(px)), ink.Housing)
	if err != nil {
		return nil, err
	}
	return &Drawing{
		ink: &ink, pen: pen.New(px), letters: lettering.New(), face: face,
		out: image.NewRGBA(image.Rect(0, 0, px, px)),
	}, nil
}

// Side returns the side of the picture in pixels.
func (d *Drawing) Side() int { return d.out.Rect.Dx() }

// Ink returns the colours the drawing was made with.
func (d *Drawing) Ink() Ink { return *d.ink }

// faceRadius is the radius of the housing.
const faceRadius = 0.452

// Draw returns the picture of a view, opaque all over. It is the drawing's own picture:
// it is overwritten by the next Draw and must not be changed. A view with an angle that is
// not finite is drawn as one that is hidden, so that no direction is shown that was not
// computed.
func (d *Drawing) Draw(v View) *image.RGBA {
	v = v.sound()
	if d.last != nil && v == *d.last {
		return d.out
	}
	d.last = &v
	if v.Hidden {
		d.ground(0)
		d.compose(housing.State{Blank: true})
		return d.out
	}
	d.ground(v.Ground)
	d.grid(v.From, v.Ground)
	d.lines(v)
	d.walker(v)
	d.plate(v.Plate.Rad())
	d.compose(housing.State{
		Head: v.Plate, At: v.Plate - v.Housing, NeedleOff: v.Needle - v.Housing, GateOff: v.Gate - v.Housing,
		Needle: v.HasNeedle, Gate: true, Circle: v.Circle,
	})
	d.arrow(v.Plate.Rad())
	d.write(v)
	return d.out
}

// sound hides a view that holds a direction or a length that is not a number, and everything
// that a hidden view holds.
func (v View) sound() View {
	for _, a := range []units.Angle{v.Plate, v.Housing, v.Gate, v.Needle, v.Body} {
		v.Hidden = v.Hidden || !a.IsFinite()
	}
	for _, p := range []Point{v.From, v.To, v.Led.From, v.Led.To, {v.Stand, v.Ground}} {
		v.Hidden = v.Hidden || math.IsNaN(p[0]+p[1]) || math.IsInf(p[0], 0) || math.IsInf(p[1], 0)
	}
	if v.Hidden {
		return View{Hidden: true}
	}
	return v
}

// compose lays the housing over the middle of the picture.
func (d *Drawing) compose(s housing.State) {
	from := d.face.Draw(s)
	at := (d.Side() - from.Rect.Dx()) / 2
	for y := range from.Rect.Dy() {
		i, j := d.out.PixOffset(at, at+y), from.PixOffset(0, y)
		over(d.out.Pix[i:i+4*from.Rect.Dx()], from.Pix[j:])
	}
}

// over lays a row of pixels, their colours multiplied by their alpha, over opaque ones.
func over(dst, src []byte) {
	for i := 0; i+4 <= len(dst); i += 4 {
		s, d := src[i:i+4:i+4], dst[i:i+4:i+4]
		switch s[3] {
		case 0:
		case 0xff:
			copy(d, s)
		default:
			rest := uint32(0xff - s[3])
			for c := range 3 {
				d[c] = s[c] + uint8((uint32(d[c])*rest+127)/255)
			}
		}
	}
}
