// Package report writes what is known of a sheet's calibration as one page of
// PDF, to be looked at, filed or sent: the picture with the grid as the fit has
// it and what the fit leaves over at each control point, the kinds of fit that
// were tried, the figures, the proof and the cautions. It writes no route card
// and calibrates nothing.
package report
