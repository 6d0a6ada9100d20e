package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/ui"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
	"legwright/cmd/internal/xdisplay"
	"legwright/mapio/scan"
)

// holesSeen is what a look for holes found.
type holesSeen struct {
	Name   string
	Looks  int // pictures of the screen that were compared
	Pixels int // of the sheet, in all of them
	Wrong  int // that are not as the reference has them
}

// screenEnv names the file that the display keeps its pixels in.
const screenEnv = "LEGWRIGHT_SCREEN"

// shade is how many rows of the sheet lie in the shadow that the toolkit draws
// below its menus.
const shade = 4

// pointer is how far from the middle of the screen, where a display has its
// pointer until somebody moves it, a pixel may belong to the pointer.
const pointer = 24

// near is by how many steps of 255 a channel may differ: textures are bytes,
// and nothing is mixed at these scales.
const near = 3

// gaze is one look at the sheet.
type gaze struct {
	shot  *image.RGBA
	view  view.View
	sheet image.Rectangle // the sheet's part of the screen
	level int             // whose pixels are those of the screen
	ref   *reference
}

// holes pans over the sheet by script at three scales at which a pixel of the
// screen is a pixel of a level. Each time the sheet has settled it compares
// the screen with the levels of a picture decoded anew, without a store.
func holes(b *ui.Bench, file string, seed uint64) {
	waitSharp(b)
	ref, err := newReference(file)
	if err != nil {
		fail(err)
	}
	w := &walker{b: b, dice: rand.New(rand.NewPCG(seed, 11))}
	seen := holesSeen{Name: "holes"}
	var corner *image.Point // of the window on the screen
	for i := range 9 {
		level := i % 3
		at, dx, dy := w.spot(), 60*(w.dice.Float64()-0.5), 60*(w.dice.Float64()-0.5)
		w.step(1, func() {
			m := b.Sheet()
			m.SetView(m.View().ScaledTo(math.Ldexp(1, -level), at, m.View().Middle()))
		})
		w.step(60, func() { b.Sheet().PanBy(dx, dy) })
		waitSettled(b)
		g := look(b, level, ref)
		if corner == nil {
			found := g.corner()
			corner = &found
		}
		g.sheet = g.sheet.Add(*corner)
		all, wrong := g.compare(1)
		seen.Looks, seen.Pixels, seen.Wrong = seen.Looks+1, seen.Pixels+all, seen.Wrong+wrong
	}
	tell(seen)
}

// waitSettled waits until nothing on the sheet will change any more, and has
// been painted.
func waitSettled(b *ui.Bench) {
	for until := time.Now().Add(time.Minute); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		settled := false
		fyne.DoAndWait(func() { settled = b.Sheet().Settled() })
		if settled {
			waitShown(b)
			time.Sleep(100 * time.Millisecond) // until the display has it too
			return
		}
	}
	fail(errors.New("the sheet did not settle"))
}

// look reads the screen, with the view that was painted and the sheet's part
// of the window. The scale of the display is 1, as the figures set it.
func look(b *ui.Bench, level int, ref *reference) gaze {
	g := gaze{level: level, ref: ref}
	fyne.DoAndWait(func() {
		m := b.Sheet()
		g.view = m.View()
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(m)
		w, h := g.view.Viewport()
		x, y := int(math.Round(float64(at.X))), int(math.Round(float64(at.Y)))
		g.sheet = image.Rect(x, y, x+w, y+h)
	})
	var err error
	if g.shot, err = xdisplay.ReadScreen(os.Getenv(screenEnv)); err != nil {
		fail(err)
	}
	return g
}

// corner finds where on the screen the window's contents begin, right of and
// below the corner by what a window manager draws around it.
func (g gaze) corner() (best image.Point) {
	least := math.MaxInt
	for y := range 40 {
		for x := range 12 {
			h := g
			h.sheet = g.sheet.Add(image.Pt(x, y))
			if _, wrong := h.compare(37); wrong < least {
				best, least = image.Pt(x, y), wrong
			}
		}
	}
	return best
}

// compare looks at every so many pixels of the sheet's part, along and down,
// and counts those that differ from the level.
func (g gaze) compare(every int) (all, wrong int) {
	size := g.ref.p.LevelSize(g.level)
	for y := shade; y < g.sheet.Dy(); y += every {
		for x := 0; x < g.sheet.Dx(); x += every {
			at := g.view.ToPicture(view.ScreenPt{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			px := image.Pt(int(math.Floor(math.Ldexp(at.X, -g.level))), int(math.Floor(math.Ldexp(at.Y, -g.level))))
			on := g.sheet.Min.Add(image.Pt(x, y))
			if px.In(image.Rectangle{Max: size}) && on.In(g.shot.Rect) && !g.pointed(on) {
				all++
				if !g.ref.like(g.level, px, g.shot.Pix[g.shot.PixOffset(on.X, on.Y):]) {
					wrong++
				}
			}
		}
	}
	return all, wrong
}

// pointed says whether a place on the screen may lie under the pointer.
func (g gaze) pointed(on image.Point) bool {
	mid := g.shot.Rect.Max.Div(2)
	return on.In(image.Rectangle{Min: mid, Max: mid}.Inset(-pointer))
}

// reference is the picture decoded anew, and the tiles of it that were asked
// for.
type reference struct {
	p     *pyramid.Pyramid
	tiles map[pyramid.Key]*image.RGBA
}

func newReference(file string) (*reference, error) {
	s, err := scan.NewOpener().Open(context.Background(), os.DirFS(filepath.Dir(file)), filepath.Base(file), scan.Options{})
	if err != nil {
		return nil, err
	}
	p := pyramid.New(s.Image, pyramid.Options{})
	return &reference{p: p, tiles: map[pyramid.Key]*image.RGBA{}}, p.WaitWhole()
}

// like says whether a pixel of a level is as the screen has it.
func (r *reference) like(level int, px image.Point, got []byte) bool {
	t := r.tile(pyramid.Key{Level: level, X: px.X / pyramid.TileSize, Y: px.Y / pyramid.TileSize})
	want := t.Pix[t.PixOffset(px.X%pyramid.TileSize, px.Y%pyramid.TileSize):]
	for i := range 3 {
		if d := int(got[i]) - int(want[i]); d > near || d < -near {
			return false
		}
	}
	return true
}

// tile waits for a tile.
func (r *reference) tile(k pyramid.Key) *image.RGBA {
	if t := r.tiles[k]; t != nil {
		return t
	}
	for range 500 {
		if t, ok := r.p.Tile(k); ok {
			r.tiles[k] = t
			return t
		}
		r.p.Request([]pyramid.Key{k}, nil)
		time.Sleep(10 * time.Millisecond)
	}
	fail(fmt.Errorf("tile %v of the reference did not come", k))
	return nil
}
