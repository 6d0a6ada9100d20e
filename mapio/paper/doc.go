// Package paper lays out printed pages and writes them as PDF: sizes, text,
// tables, lines, pictures, check lines and cards to cut. It knows no plan and no leg;
// mapio/card fills it. Lengths are millimetres, x right and y down from the top-left
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
// into lines. What still does not fit ends in "…", and the caller is told. The face is
// DejaVu Sans, which has Latin, Greek and Cyrillic letters with their marks: the writer
// of PDFs takes no fonts with cubic outlines, such as B612. It shapes no text either: letters
// written from right to left, those beyond U+FFFF and those that the face lacks stand
// as their code point, such as [05D0].
//
// # Traps
//
//   - A Rect that was cut from another with Top or Left shares its edges: nothing
//     between them, so leave a gap yourself.
//   - Width and Tall measure a text as it is drawn; do not measure by other means.
//   - pdftotext gives the order of drawing only with -raw; without it, it guesses
//     columns.
package paper
