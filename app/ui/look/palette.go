package look

import "image/color"

// Palette is one variant's colours by role. Every colour is opaque except
// Hover, Press, Select and Shade, which are laid over what lies below. The
// text roles reach a contrast of 4.5 on Paper, Board and Well, the UI marks
// (Edge, Faint, Accent) reach 3; the test computes both by WCAG 2.1.
type Palette [roles]color.NRGBA

// Role is what a colour is for.
type Role int

// The roles.
const (
	Paper Role = iota // the window and everything that reads like a page
	Board             // panels, bars and menus beside the sheet
	Well              // what can be typed into
	Key               // an ordinary button's surface

	Ink   // text and icons
	Quiet // labels, uncertainties, hints: still text
	Faint // what cannot be used now
	Hair  // dividing lines, decoration only
	Edge  // frames of fields and switches: UI marks

	Accent   // heather: chosen, focused, live
	OnAccent // text on Accent

	Hover
	Press
	Select
	Shade

	Caution     // text of a caution, on Paper, Board and CautionWash
	CautionWash // below it
	Fault       // text of a fault, on Paper, Board and FaultWash
	FaultWash   // below it
	Good        // text of something that agrees, on Paper, Board and GoodWash
	GoodWash    // below it

	dialRim // the rest as in DialInk
	dialRing
	dialMark
	dialPlate
	dialLine
	dialLetter
	dialNeedle
	dialTail
	dialIndex
	roles
)

// Dial returns the colours of the compass housing.
func (p Palette) Dial() DialInk {
	return DialInk{
		Rim: p[dialRim], Ring: p[dialRing], Mark: p[dialMark], Plate: p[dialPlate], Line: p[dialLine],
		Letter: p[dialLetter], Needle: p[dialNeedle], Tail: p[dialTail], Index: p[dialIndex],
	}
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
		dialRim: rgb(0x1b252c), dialRing: rgb(0x34434e), dialMark: rgb(0xf6f3eb),
		dialPlate: rgb(0xfaf8f2), dialLine: rgb(0xb9c0c0), dialLetter: rgb(0x34434e),
		dialNeedle: rgb(0x7a3b6f), dialTail: rgb(0x34434e), dialIndex: rgb(0xd9b7d3),
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
		dialRim: rgb(0x55646f), dialRing: rgb(0x2f3c46), dialMark: rgb(0xefeadd),
		dialPlate: rgb(0x141c21), dialLine: rgb(0x44525c), dialLetter: rgb(0xc9c7bc),
		dialNeedle: rgb(0xcb98c3), dialTail: rgb(0xa9b3b8), dialIndex: rgb(0xd9b7d3),
	}
}
