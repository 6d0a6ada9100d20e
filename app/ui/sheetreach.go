package ui

import (
	"legwright/app/calib"
	"legwright/app/caution"
)

// reachHint says what to do about control points that are sound but do not
// carry the whole picture, "" where they do.
func reachHint(c *calib.Calibration) string {
	switch c.Trust().Code {
	case caution.PhotoNeedsFour:
		return "This picture is a photograph: name at least four grid intersections, near its corners."
	case caution.ShortReach:
		return "The control points lie in one part of the picture. Click a grid intersection far from them, or use the sheet near them only."
	}
	return ""
}
