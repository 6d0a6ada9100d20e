// Package widgets holds the small made widgets that the panels of the bench share:
// headings, figures, tool buttons, choosers, chips, sentences, strips and
// hairlines. A part knows colours and sizes through the theme of app/ui/look
// and calls back; it knows no plan and no session.
//
// # What a frame costs
//
// What moves on the sheet is a canvas.Raster, never a canvas.Image. Every visible object
// costs each frame some 20 µs, so what has many texts is one picture (dial, ledger, foot
// line), and what shows nothing is hidden. A text of the toolkit takes half a millisecond
// whenever it is new: figures that follow the pointer are a FigureLine. Resize throws a
// picture's texture away. A new way of drawing (rounded corners, unsmoothed pictures)
// costs a computer without a graphics card 50 to 85 ms at its first use: corners are
// square.
//
// # Focus
//
// A field that was never painted has no canvas yet: focus it by the window's canvas, not
// by CanvasForObject. Lists and check boxes keep the focus after a click: they pass a
// presenter's keys on, or give the focus back to the sheet.
package widgets
