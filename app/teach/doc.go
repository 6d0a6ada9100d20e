// Package teach holds what a coach tells a group about bearings: what a bearing is
// called, what lies on it from here, whether two people mean the same feature, and how
// far a guess is from the truth. A lesson and the steps of a compass are its state; they
// are kept in memory and belong to one goroutine.
//
// It reads positions, cautions and their ± from app/leg. It draws nothing, opens no
// window, changes no plan and starts no goroutine. Where the plan has terrain it says which
// features the ground hides; it never says that one can be seen, which is for people to
// judge.
//
// # Words
//
// A quarter is the part of the circle between two cardinal directions, such as that
// between west and north. A ray is the line that starts at a position and runs along a
// bearing. The tolerance of a bearing is its ± (95 %), two σ.
package teach
