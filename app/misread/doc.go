// Package misread lists the usual slips of reading and setting a compass, says what
// each makes of a right bearing and of which bearing it made a wrong one, and names
// those that explain a wrong answer. It judges angles alone: whether an answer is
// right on the ground, and how exact the right one is, others say. Slips of a map's
// typed references are the business of package slips of app/calib.
//
// A slip is named where it makes the answer that was given, within a tolerance, and
// moves the right answer by more than twice that tolerance: a smaller one cannot be
// told from a rough reading. Where several make the same figure all are named, for
// the figure alone cannot tell them apart.
//
// The slips are those that handbooks warn of: an arrow pointing the wrong way, on the
// plate or in the housing (Scouting Ireland, The Sea Scout Handbook, "Walking on a
// bearing"), and the grid-magnetic angle applied the wrong way (US Army FM 3-25.26,
// section 6-6; section and wording from memory). The rest of the list is common
// practice, no source.
package misread
