package calib

// inspect runs every check on a finished fit.
func inspect(c *Calibration, o Options) []Warning {
	var found []Warning
	if c.sol.dof == 0 {
		found = append(found, Warning{CodeNoRedundancy, "nothing checks these control points: add one more and see whether it agrees"})
	}
	return found
}
