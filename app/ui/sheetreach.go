package ui

import "legwright/app/calib"

// reachHint says what to do about control points that are sound but do not
// carry the whole picture, "" where they do.
func reachHint(c *calib.Calibration) string {
	for _, w := range c.Warnings() {
		switch w.Code {
		case calib.CodePhoto:
			return "This picture is a photograph: name at least four grid intersections, near its corners."
		case calib.CodeShortReach:
			return "The control points lie in one part of the picture. Click a grid intersection far from them, or use the sheet near them only."
		}
	}
	return ""
}
