// Package pace says how long a way takes to walk, by one of the published rules, and how
// its length is counted off in paces. It works on lengths, rises and falls alone: where
// they come from, and when somebody sets out, others say.
//
// # Rules
//
// A rule gives the minutes of walking without a stop. Its numbers and worked examples are
// those of the published forms, which the tests hold:
//
//   - Naismith1892: an hour for every three miles and another for every 2,000 feet of
//     climb, as printed.
//   - NaismithMetric: so many kilometres an hour and 10 minutes for every 100 m of climb.
//     At 5 km/h it is the usual metric form, 12 minutes to the kilometre (the same as
//     half an hour for 300 m or an hour for 600 m of climb); at 4 km/h it is the slower
//     form of 15 minutes to the kilometre, which plans start with.
//   - Tobler: 6 · exp(−3.5 · |slope + 0.05|) km/h (Tobler 1993), which slows downhill too.
//
// Langmuir's corrections change the two forms of Naismith's rule on descents: 10 minutes
// less for every 300 m at 5° to 12°, 10 minutes more where it is steeper. The sources do
// not agree whether 5° and 12° themselves are gentle; here they are. Where nobody knows how
// steep a descent is on its parts, NoSaving keeps what he takes off out of the time.
//
// Tranter's table makes of Naismith's hours those of a party of a known fitness. It is for
// a whole route, so that legs share its ratio. Between its columns the hours are
// interpolated, below the first the first one's ratio holds; an empty cell is too much to
// be attempted, and so is whatever lies beyond the last one filled. Where the copies of
// the table disagree (fitness 15, 5 hours: 2.75 or 2.25) it is 2.75, which fits its
// neighbours. The table was made for Naismith's own speed; on a slower one, such as
// 4 km/h, it errs on the slow side.
//
// # Ground
//
// The ground scales the speed over the flat: off a path 4 km/h where a path allows 5
// (Aitken 1977), rough ground six tenths of that (common practice, no source); Tobler's
// own factor off a path is six tenths. Plantation lets nobody through. Which part of a leg lies on
// which ground, app/leg says.
package pace
