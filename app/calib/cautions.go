package calib

import (
	"slices"

	"legwright/app/caution"
)

// Cautions returns what the checks of the fit itself found, gravest first. Which
// control point is wrong, package slips says.
func (c *Calibration) Cautions() []caution.Caution { return slices.Clone(c.cautions) }
