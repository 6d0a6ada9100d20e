package look

import "image/color"

// Palette is one variant's colours by role. Every colour is opaque except
// Hover, Press, Select and Shade, which are laid over what lies below. The
// text roles reach a contrast of 4.5 on Paper, Board and Well, the UI marks
// (Edge, Faint, Accent) reach 3; the test computes both by WCAG 2.1.
type Palette struct {
	Paper color.NRGBA // the window and everything that reads like a page
	Board color.NRGBA // panels, bars and menus beside the sheet
	Well  color.NRGBA // what can be typed into
	Key   color.NRGBA // an ordinary button's surface

	Ink   color.NRGBA // text and icons
	Quiet color.NRGBA // labels, uncertainties, hints: still text
	Faint color.NRGBA // what cannot be used now
	Hair  color.NRGBA // dividing lines, decoration only
	Edge  color.NRGBA // frames of fields and switches: UI marks

	Accent   color.NRGBA // heather: chosen, focused, live
	OnAccent color.NRGBA // text on Accent

	Hover  color.NRGBA
	Press  color.NRGBA
	Select color.NRGBA
	Shade  color.NRGBA

	Caution     color.NRGBA // text of a caution, on Paper, Board and CautionWash
	CautionWash color.NRGBA
	Fault       color.NRGBA // text of a fault, on Paper, Board and FaultWash
	FaultWash   color.NRGBA
	Good        color.NRGBA // text of something that agrees, on Paper, Board and GoodWash
	GoodWash    color.NRGBA

	Dial DialInk
}

// DialInk is the compass housing's own set: a ring of slate around a plate.
type DialInk struct {
	Rim    color.NRGBA // the hairline around the housing
	Ring   color.NRGBA // the turning ring
	Mark   color.NRGBA // graduations and figures on the ring
	Plate  color.NRGBA // the floor inside the ring
	Line   color.NRGBA // north lines on the plate
	Letter color.NRGBA // letters and the gate on the plate
	Needle color.NRGBA // the needle's north half
	Tail   color.NRGBA // the needle's south half
	Index  color.NRGBA // the fixed index at the head of the ring
}

func rgb(hex uint32) color.NRGBA { return rgba(hex, 0xff) }

func rgba(hex uint32, alpha uint8) color.NRGBA {
	return color.NRGBA{R: uint8(hex >> 16), G: uint8(hex >> 8), B: uint8(hex), A: alpha}
}

// Light returns the palette of ivory paper and slate ink.
func Light() Palette {
	return Palette{
		Paper: rgb(0xf6f3eb), Board: rgb(0xeeeae0), Well: rgb(0xfcfbf7), Key: rgb(0xe3ded1),
		Ink: rgb(0x202b33), Quiet: rgb(0x54606a), Faint: rgb(0x7c8283),
		Hair: rgb(0xd2ccbe), Edge: rgb(0x85877f),
		Accent: rgb(0x7a3b6f), OnAccent: rgb(0xfcf8f3),
		Hover: rgba(0x202b33, 0x10), Press: rgba(0x202b33, 0x22),
		Select: rgba(0x7a3b6f, 0x2c), Shade: rgba(0x202b33, 0x1e),
		Caution: rgb(0x7a4f00), CautionWash: rgb(0xf3e4bf),
		Fault: rgb(0x9b2c22), FaultWash: rgb(0xf5dcd5),
		Good: rgb(0x2a6244), GoodWash: rgb(0xdbe8db),
		Dial: DialInk{
			Rim: rgb(0x1b252c), Ring: rgb(0x34434e), Mark: rgb(0xf6f3eb),
			Plate: rgb(0xfaf8f2), Line: rgb(0xb9c0c0), Letter: rgb(0x34434e),
			Needle: rgb(0x7a3b6f), Tail: rgb(0x34434e), Index: rgb(0xd9b7d3),
		},
	}
}

// Dark returns the palette of deep slate and ivory ink.
func Dark() Palette {
	return Palette{
		Paper: rgb(0x171f25), Board: rgb(0x1e272e), Well: rgb(0x12191e), Key: rgb(0x2b3740),
		Ink: rgb(0xe9e4d7), Quiet: rgb(0xa5aeb2), Faint: rgb(0x747f86),
		Hair: rgb(0x35424c), Edge: rgb(0x78858e),
		Accent: rgb(0xcb98c3), OnAccent: rgb(0x241522),
		Hover: rgba(0xe9e4d7, 0x12), Press: rgba(0xe9e4d7, 0x24),
		Select: rgba(0xcb98c3, 0x38), Shade: rgba(0x05090c, 0x80),
		Caution: rgb(0xe3b75f), CautionWash: rgb(0x3a2f17),
		Fault: rgb(0xf09486), FaultWash: rgb(0x40221f),
		Good: rgb(0x8cc7a2), GoodWash: rgb(0x1c3529),
		Dial: DialInk{
			Rim: rgb(0x55646f), Ring: rgb(0x2f3c46), Mark: rgb(0xefeadd),
			Plate: rgb(0x141c21), Line: rgb(0x44525c), Letter: rgb(0xc9c7bc),
			Needle: rgb(0xcb98c3), Tail: rgb(0xa9b3b8), Index: rgb(0xd9b7d3),
		},
	}
}
