// Package geomag says how the earth's magnetic field stands at a place and
// date, how far its declination can be trusted, and where a compass cannot be
// used. It knows nothing of grids: turning a declination into a grid-magnetic
// angle is the work of app/leg.
//
// The field is that of the World Magnetic Model (NOAA NCEI and British
// Geological Survey): WMM2020 from 2020.0 up to but not including 2025.0,
// WMM2025 from 2025.0 to 2030.0. Outside these years there is an error and no
// number. The model describes the field of the core and leaves out local iron,
// magnetic rock, power lines and magnetic storms; its published error model
// covers the usual size of what it leaves out, not the worst.
//
// A Model is one epoch, an Evaluator is one model at one date. Both are
// immutable and may be used from several goroutines; Evaluator.Vector
// allocates nothing and takes well under a microsecond.
package geomag
