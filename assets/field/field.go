// Package field holds the embedded coefficients of the World Magnetic Model as
// plain text. It does not read or evaluate them: that is the work of
// app/geomag, and it imports nothing of ours.
//
// Each table begins with comment lines (#) and one line "epoch YEAR"; then one
// line "n m g h dg dh" for every degree n from 1 to 12 and order m from 0 to
// n: Schmidt semi-normalised, g and h in nT at the epoch, dg and dh in nT a
// year. The model is published by NOAA NCEI and the British Geological Survey
// and is in the public domain; assets/notices says where the numbers were read.
package field

import _ "embed"

//go:embed wmm2025.txt
var wmm2025 string

//go:embed wmm2020.txt
var wmm2020 string

// WMM2025 returns the table of the model of epoch 2025.0.
func WMM2025() string { return wmm2025 }

// WMM2020 returns the table of the model of epoch 2020.0.
func WMM2020() string { return wmm2020 }
