// Package geomag computes the earth's magnetic field at a position and date, the error of
// its declination, and where a compass cannot be used. It knows no grids: app/leg turns a
// declination into a grid-magnetic angle.
//
// The field is that of the World Magnetic Model (NOAA NCEI and British
// Geological Survey): WMM2020 from 2020.0 up to but not including 2025.0,
// WMM2025 from 2025.0 to 2030.0. Outside these years there is an error and no
// number. The model describes the field of the core and leaves out local iron,
// magnetic rock, power lines and magnetic storms; its published error model
// covers their usual size, not the worst.
//
// A Model is one epoch, an Evaluator is one model at one date. Both are
// immutable and may be used from several goroutines; Evaluator.Vector
// allocates nothing and takes well under a microsecond.
package geomag
