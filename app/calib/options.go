package calib

import (
	"fmt"
	"math"
)

// Options say what Fit knows beside the points. The zero value is a scan of
// unknown size.
type Options struct {
	Medium Medium
	// Focal is the focal length of the camera in diagonals of the picture, as
	// its file states it: millimetres of 35 mm film ÷ 43.27. 0 where unknown.
	Focal float64
	DPI   float64 // pixels per inch of paper; 0 where unknown

	Width, Height int // of the picture in pixels; 0 where unknown

	// SharedM is the σ per axis, in metres, of an error that all the points
	// have in common, such as a datum shift's; 0 where there is none. No fit
	// shows it and none averages it away: it is added to every position.
	SharedM float64
}

// leastFocal and mostFocal are how short and long a lens may be, in diagonals.
const (
	leastFocal = 0.1
	mostFocal  = 100
)

func (o Options) check() error {
	switch {
	case !o.Medium.Known():
		return &Unfit{Reason: fmt.Sprintf("the picture's medium is %s: it must be scan, photograph or drawn", o.Medium)}
	case math.IsNaN(o.DPI) || o.DPI < 0 || o.DPI > 1e5:
		return &Unfit{Reason: fmt.Sprintf("the resolution is %g pixels per inch: it must be between 0 (unknown) and 100000", o.DPI)}
	case o.Focal != 0 && !(o.Focal >= leastFocal && o.Focal <= mostFocal):
		return &Unfit{Reason: fmt.Sprintf("the focal length is %g diagonals of the picture: it must be 0 (unknown) or between %g and %g", o.Focal, leastFocal, float64(mostFocal))}
	case !(o.SharedM >= 0 && o.SharedM <= maxSigmaM):
		return &Unfit{Reason: fmt.Sprintf("the error that all points share is %g m: it must be between 0 and %g", o.SharedM, maxSigmaM)}
	case o.Width < 0 || o.Height < 0:
		return &Unfit{Reason: fmt.Sprintf("the picture is %d × %d pixels: sizes must not be negative", o.Width, o.Height)}
	}
	return nil
}
