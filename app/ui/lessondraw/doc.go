// Package lessondraw says what of a lesson is drawn over the sheet: the line with its
// norths, the angle swept from one of them, the guesses, where a slip with the compass
// leads, and the watermark of a training GMA. The bench and the projector window both
// draw by it, so that the coach and the group see the same. It paints nothing itself and
// knows no window. The only figures that it writes are those of where a slip leads, and
// none while figures are hidden; all others stand beside the sheet.
package lessondraw
