// Package checksheet makes calibrated sheets whose truth is known, for the
// figures of checks and cautions: a grid, paper that is stretched, folded or
// photographed, clicks with noise, references as people type them, slips of
// typing and independent evidence. Everything comes from a seed.
//
// It shares no code with the fits that it is used to measure. The truth goes from
// the grid to the picture; the other way is found by iteration. Only latitude and
// longitude come from app/geodesy, which has its own checks against published
// figures.
package checksheet
