// Package lessondraw says what of a lesson is drawn over the sheet: the line with its
// norths, the angle swept from one of them, the guesses, and the watermark of a training
// GMA. The bench and the projector window both draw by it, so that the coach and the
// group see the same. It paints nothing itself, knows no window, and writes no figure:
// those stand beside the sheet, where they can be hidden.
package lessondraw
