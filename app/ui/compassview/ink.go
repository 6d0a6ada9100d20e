package compassview

import (
	"image/color"

	"legwright/app/ui/baseplate"
	"legwright/app/ui/dial"
	"legwright/app/ui/look"
)

// InkOf are the colours of the compass in a palette.
func InkOf(p look.Palette) baseplate.Ink {
	pale := func(c color.NRGBA, alpha uint8) color.NRGBA { c.A = alpha; return c }
	out := baseplate.Ink{
		Housing: dial.InkOf(p), Map: p[look.Paper], Ground: p[look.GoodWash], Grid: p[look.Edge], Line: p[look.Ink],
		Text: p[look.Ink], Quiet: p[look.Quiet], Casing: p[look.Paper],
		Plate: pale(p[look.Well], 0x58), Edge: p[look.Quiet], Wrong: p[look.Fault],
	}
	out.Housing.Plate = pale(out.Housing.Plate, 0x30)
	return out
}
