package mapview

import (
	"image"

	"legwright/canvas/pyramid"
)

// lent is a source whose tiles can be taken back. The toolkit remembers every
// object for a minute after it has gone from the window, and a sheet that is
// turned and moved would so hold the pixels of a hundred tiles that nobody
// shows. What is handed out here are pictures that share the tile's pixels
// until they are released, and are empty from then on.
type lent struct {
	source
	out map[*image.RGBA]*image.RGBA // from what was handed out to the tile
}

func lending(s source) lent { return lent{s, map[*image.RGBA]*image.RGBA{}} }

func (l lent) tile(k pyramid.Key) (*image.RGBA, bool) {
	img, ok := l.source.tile(k)
	if !ok {
		return nil, false
	}
	own := *img
	l.out[&own] = img
	return &own, true
}

func (l lent) release(own *image.RGBA) {
	img := l.out[own]
	if img == nil {
		return
	}
	delete(l.out, own)
	*own = image.RGBA{}
	l.source.release(img)
}
