// Package housing draws the face of the dial into a picture: the turning ring
// with its graduations and figures, the plate with its north lines, the gate,
// the needle and the fixed index. It knows angles and colours, and nothing of
// plans, widgets or Fyne.
//
// # What the picture says
//
// The index at the head of the face is the direction in which the walker goes.
// The ring is turned until the figure to SET stands at the index, so the
// housing's own north lies the set angle S anticlockwise of the index. The north
// lines on the plate turn with the ring and lie along the grid lines of a map.
//
// Where the walker is drawn as going elsewhere than to the head of the picture, all of it
// stands turned (State.Head), and only letters and figures stay upright to the centre.
//
// The needle shows magnetic north as it lies when the index points along the
// leg: at −M from the index where M is the magnetic bearing, which is S − M
// clockwise from the housing's north (State.NeedleOff).
//
// The gate, two posts on the plate, is where the needle has to be brought. On a
// plain housing it stands at the housing's north. On a housing with an
// adjustable scale it stands at the angle that is set there, east positive
// (State.GateOff).
//
//   - Plain housing: S is the magnetic bearing, so NeedleOff = 0 and the needle
//     lies in the gate at the housing's north.
//   - Housing adjusted to the grid-magnetic angle: S is the grid bearing, so
//     NeedleOff = grid − magnetic = GMA, and the gate stands at the GMA too: the
//     needle lies in the gate again, beside the housing's north.
//   - Whenever the two differ, the needle stands outside the gate by the error
//     that would be walked.
//
// # How it is drawn
//
// Housing, ring and plate do not change with the bearing: they are painted once
// for a size and a set of colours. What turns is filled afresh on a copy for
// every new bearing, colour by colour, which keeps every graduation sharp at
// every angle and costs less than resampling a turned picture twice its size.
package housing
