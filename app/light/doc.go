// Package light says when the sun rises and sets and when civil twilight begins and
// ends, for a position and a day. It knows nothing of clouds, valleys or hills: every
// time is that of a flat horizon at the walker's own height, and in a valley, under
// cloud or behind a ridge it is dark sooner.
//
// # Method
//
// The sun's position is that of Meeus, Astronomical Algorithms (2nd edition), chapters
// 12, 22 and 25, low accuracy (0.01°), as NOAA publishes it in its solar calculator. The
// sun rises and sets when its centre stands 0.833° below the horizon (34′ of refraction
// and 16′ of radius); civil twilight ends at 6°. NOAA takes declination and equation of
// time at one instant; here the position is taken at the instant itself, which is found
// by halving between the sun's highest and its lowest point. The difference between
// dynamical and universal time, some 70 s, is left out: the sun moves 3″ in it.
//
// The table sun_events.tsv of testdata/vectors compares it with two other programs: within
// a minute at 60 dates and places below latitude 65°. Farther towards the poles the sun
// grazes the horizon, and refraction alone shifts the times by many minutes.
//
// # Days
//
// The light of a day is what lies around that day's noon: the sun rises before it and sets
// after it, even where that is after midnight, as at 64° in June. An event that does not
// occur is a state and no time.
package light
