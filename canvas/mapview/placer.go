package mapview

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// place moves and resizes an image of the canvas c without uploading its
// texture again, and says whether that was possible.
//
// Image.Move uploads nothing, but Image.Resize refreshes the image, which
// throws its texture away. The way round: a copy of the value belongs to no
// canvas, so resizing the copy refreshes nothing; written back over the
// original, whose address is the key of the texture, it leaves position and
// size in place. The canvas must then be told that it is dirty, which is not
// part of its public interface. A canvas that cannot be told is served by the
// public methods, at the price of an upload for each change of size.
func place(c fyne.Canvas, img *canvas.Image, pos fyne.Position, size fyne.Size) bool {
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

// dirty asks for the canvas to be painted again without refreshing anything.
func dirty(c fyne.Canvas, fallback fyne.CanvasObject) {
	if d, ok := c.(interface{ SetDirty() }); ok {
		d.SetDirty()
	} else if c != nil {
		c.Refresh(fallback)
	}
}
