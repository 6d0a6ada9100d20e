// Package paper lays out printed pages and writes them as PDF: sizes, text,
// tables, lines, pictures, check lines, map cuts and cards to cut. Of a plan it knows only the
// kinds of hazards; mapio/card fills it. Lengths are millimetres, x right and y down from the top-left
// corner of the paper; type is given in points (1/72 inch).
//
// # What no caller can leave out
//
// Whoever holds a page must be able to read it in rain and by a red torch, where grey
// and fine lines vanish: all is black on white, no type is smaller than [MinPt] and no
// line finer than [MinRule] (common practice, no source). Smaller wishes are errors.
// Each page carries the band of cautions at its head and, at its foot, the line
// that says which plan it is and which page of how many. A page from [Doc.AddMapPage]
// carries check lines, which show whether the printer kept the scale.
//
// # A document
//
//	d, err := paper.New(paper.A4, paper.Info{Title: …, Foot: …, Cautions: …})
//	p := d.AddPage()
//	rest, whole := p.Paragraph(p.Body, paper.Style{}, text)
//	p, rest = table.Draw(p, rest) // adds pages as it needs them
//	pdf, err := d.Bytes()
//
// The first mistake is kept and Bytes returns it, so that nothing between needs a check.
// The same calls give the same bytes. With Info.Up the pages are cards of one sheet,
// with marks to cut them along.
//
// # Text
//
// Text stands in boxes: [Page.Line] shrinks a line to its box, [Page.Paragraph] breaks it
// into lines. What still does not fit ends in "…", and the call says so. The face is
// DejaVu Sans, which has Latin, Greek and Cyrillic letters with their marks: the writer
// of PDFs takes no fonts with cubic outlines, such as B612. It shapes no text either: letters
// written from right to left, those beyond U+FFFF and those that the face lacks stand
// as their code point, such as [05D0].
//
// # Map cuts
//
// A [Cut] is a part of a calibrated sheet at true scale on the sheet's grid: 1 km is 40 mm at
// 1:25,000. It is rectified, unless the fit over its ground is a similarity turned by at
// most 0.2°: then the picture itself is placed. It is lightened, so that the plan's lines,
// black with a white casing, can be read over it; hatching alone has no casing, which would
// hide the map. A cut larger than its page is split into tiles, never shrunk. Beside its page
// it takes the memory of one tile's picture at 300 pixels per inch.
//
// # Traps
//
//   - A Rect that was cut from another with Top or Left shares its edges: nothing
//     between them, so leave a gap yourself.
//   - Width and Tall measure a text as it is drawn; do not measure by other means.
//   - pdftotext gives the order of drawing only with -raw; without it, it guesses
//     columns.
package paper
