// Package escape judges the ways off that a leader drew: how long each takes, how near it
// comes to what is drawn as a hazard, what it ends on, and until when the party may leave
// its mark. It draws and proposes nothing, and it never says that a way is safe.
//
// # What is judged
//
// An escape begins at a mark that the leader calls recognisable in cloud, ends at a haven,
// and goes there by compass legs and along drawn lines. Every leg is judged by itself,
// against the hazards drawn within NearM of it and the plan's terrain; what no terrain
// shows or nobody drew is reported as unknown. Times are those of a tired party: 4 km/h
// along lines, 3 km/h on the compass, 2.5 km/h on both in the dark, six tenths of that
// through bog, and through rough ground except along a path, a track or a road (common
// practice, no source), 10 minutes for every 100 m of climb (a metric form of Naismith's rule)
// and Langmuir's 10 minutes for 300 m of descent steeper than 12°. Where there is terrain, each
// 30 m are judged by themselves, otherwise the leg as a whole. His saving on gentle descents is
// left out.
//
// A leg that comes closer to a crag, steep ground or water than the distance to keep is a stop.
// Water that can be crossed is the exception, but only where the leg crosses it: over at most
// twice the distance to keep on each side, so at an angle of 30° or more. A leg
// that follows the water, or begins or ends well within it, does not cross it. A leg through
// plantation is a stop without a time; along a path, a track or a road it is a note.
//
// # Until when
//
// The latest time to leave a mark is sunset (or the end of civil twilight) less the time
// of the escape that the leader chose, by day, less a margin of an hour or a third of that
// time, whichever is larger (common practice, no source). An earlier hour that the leader set
// takes the place of sunset. Without one of these figures there is no latest time; where the sun does not set,
// the leader has to give an hour. An escape that with its margin takes longer than the day until
// then has no latest time either, and is a stop.
//
// # Ticks
//
// The leader looks at the map along each leg and ticks contours, crags, water and end
// feature. A fingerprint is kept with the ticks: of the leg, the hazards and the slower ground
// near it, the terrain and the calibration. Once any of these changes, the ticks no longer
// count, and an escape with a leg that is not ticked is a DRAFT, which is a stop.
//
// # What is not judged
//
// How far a party drifts from its bearing, and snow: every escape says so. Slips
// of the compass are judged for the first 300 m alone: see leg.Slips.
package escape
