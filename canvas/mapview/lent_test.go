package mapview

import (
	"image"
	"testing"

	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// oneTile is a source of a single tile that counts its hand-outs.
type oneTile struct {
	source
	img *image.RGBA
	out int
}

func (o *oneTile) tile(pyramid.Key) (*image.RGBA, bool) { o.out++; return o.img, true }
func (o *oneTile) release(*image.RGBA)                  { o.out-- }

// TestReleasedTilesHoldNothing holds that what was handed out keeps no pixels
// once it is released, while another hand-out of the same tile does.
func TestReleasedTilesHoldNothing(t *testing.T) {
	t.Parallel()
	o := &oneTile{img: image.NewRGBA(image.Rect(0, 0, 8, 8))}
	l := lending(o)
	first, _ := l.tile(pyramid.Key{})
	second, _ := l.tile(pyramid.Key{})
	if &first.Pix[0] != &o.img.Pix[0] || first.Rect != o.img.Rect {
		t.Error("what is handed out has pixels of its own, want the tile's")
	}
	l.release(first)
	l.release(first)
	if first.Pix != nil || !first.Rect.Empty() {
		t.Errorf("a released tile still holds %d bytes", len(first.Pix))
	}
	if len(second.Pix) == 0 || len(o.img.Pix) == 0 {
		t.Error("releasing one hand-out emptied the other or the tile")
	}
	if o.out != 1 {
		t.Errorf("%d hand-outs are open, want 1", o.out)
	}
}

// TestDroppedTilesHoldNothing holds that a tile that has left the window keeps
// no pixels, upright and turned: the toolkit remembers its object for longer.
func TestDroppedTilesHoldNothing(t *testing.T) {
	r := newRig(t, addressed(2300, 1600), 1, 700, 500, 10, 10, Callbacks{})
	for _, c := range []struct {
		name string
		turn float64
	}{{"upright", 0}, {"turned", 0.4}} {
		r.show(r.View().RotateTo(c.turn, view.ScreenPt{}))
		var shown []*image.RGBA
		for _, p := range r.stage.pieces {
			shown = append(shown, p.pix)
		}
		if len(shown) == 0 {
			t.Fatalf("%s: no tile was shown", c.name)
		}
		r.closeStage()
		for _, img := range shown {
			if img.Pix != nil {
				t.Errorf("%s: a dropped tile still holds %d bytes", c.name, len(img.Pix))
			}
		}
	}
}
