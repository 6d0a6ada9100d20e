package sheet

import "image/color"

// The colours of the sheet: slate violet for the shape of the ground, teal for
// water, ochre for ways, plum ink for rock, names and what people built.
var (
	paper     = color.RGBA{250, 247, 240, 255}
	seaTone   = color.RGBA{211, 228, 228, 255}
	lakeTone  = color.RGBA{184, 216, 217, 255}
	landLow   = color.RGBA{240, 235, 223, 255}
	landHigh  = color.RGBA{247, 244, 240, 255}
	woodTone  = color.RGBA{212, 219, 196, 255}
	woodInk   = color.RGBA{88, 116, 92, 255}
	waterInk  = color.RGBA{30, 118, 130, 255}
	waterName = color.RGBA{16, 92, 106, 255}
	coastInk  = color.RGBA{28, 70, 84, 255}
	relief    = color.RGBA{142, 131, 172, 255}
	reliefDk  = color.RGBA{98, 84, 142, 255}
	rockInk   = color.RGBA{70, 58, 76, 255}
	pathInk   = color.RGBA{166, 98, 14, 255}
	roadEdge  = color.RGBA{110, 72, 30, 255}
	roadFill  = color.RGBA{250, 222, 160, 255}
	wallInk   = color.RGBA{104, 98, 108, 255}
	builtInk  = color.RGBA{58, 44, 58, 255}
	nameInk   = color.RGBA{44, 36, 50, 255}
	gridInk   = color.RGBA{52, 72, 108, 255}
)

// Widths in pixels of 0.1 mm.
const (
	contourW = 1.6
	indexW   = 2.9
	coastW   = 3.4
	pathW    = 4.2
	roadW    = 10.5
	wallW    = 2.4
	gridW    = 2.0
)
