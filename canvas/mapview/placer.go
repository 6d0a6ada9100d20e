package mapview

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// rasterOf makes the canvas object that shows whatever picture get gives, at
// whatever size. It is a canvas.Raster and not a canvas.Image: the toolkit
// refreshes an Image that is new to a canvas while it paints, and so paints
// the whole window twice for each tile that comes in.
func rasterOf(mode canvas.ImageScale, get func() *image.RGBA) *canvas.Raster {
	return &canvas.Raster{ScaleMode: mode, Generator: func(int, int) image.Image {
		if pix := get(); pix != nil {
			return pix
		}
		return &image.RGBA{} // becomes no texture
	}}
}

// place moves and resizes a picture of the canvas c without uploading its
// texture again, and says whether that was possible.
//
// Raster.Move uploads nothing, but Raster.Resize refreshes the picture, which
// throws its texture away. The way round: a copy of the value belongs to no
// canvas, so resizing the copy refreshes nothing; written back over the
// original, whose address is the key of the texture, it leaves position and
// size in place. The canvas must then be marked as dirty, which is not
// part of its public interface. A canvas that cannot be marked is served by the
// public methods, at the price of an upload for each change of size.
func place(c fyne.Canvas, img *canvas.Raster, pos fyne.Position, size fyne.Size) bool {
	if img.Position() == pos && img.Size() == size {
		return true
	}
	d, ok := c.(interface{ SetDirty() })
	if !ok {
		img.Resize(size)
		img.Move(pos)
		return false
	}
	moved := *img
	moved.Resize(size)
	moved.Move(pos)
	*img = moved
	d.SetDirty()
	return true
}

// refreshOn has the pixels of an object fetched anew. By itself the toolkit finds the canvas of an
// object only within a minute of its first paint, and keeps the old pixels where it finds none.
func refreshOn(c fyne.Canvas, o fyne.CanvasObject) {
	if c == nil {
		canvas.Refresh(o)
		return
	}
	c.Refresh(o)
}

// dirty asks for the canvas to be painted again without refreshing anything.
func dirty(c fyne.Canvas, fallback fyne.CanvasObject) {
	if d, ok := c.(interface{ SetDirty() }); ok {
		d.SetDirty()
	} else if c != nil {
		c.Refresh(fallback)
	}
}
