// Package planfile writes and reads plans: the file NAME.legplan and the
// journal that outlives a crash. It meets the session's Store and Journal. It
// edits nothing and asks nothing.
//
// # The file
//
// One JSON object in UTF-8, with "format": "legwright-plan" and "version": 1.
// Lengths are metres, picture places pixels, angles degrees; each key carries
// its unit. A position has its grid coordinates with the EPSG code or the
// definition of its grid, its origin
// and its σ. Pictures are named relative to the plan. Keys of the plan and of its
// sheets that this version does not know are kept and written back. A key in other
// capitals, a repeated key, and null are refused. Every list has a
// limit that is checked before anything is decoded. A file of a newer version is
// refused.
//
// Saving follows package atomicfile and keeps the previous plan as
// NAME.legplan.bak. At every moment either the old or the new plan is there
// whole.
//
// # The journal
//
// One file for each running bench, in the first of the user's state folders
// that can be written, guarded by a lock that the system drops when the process
// dies. Each completed act adds one line of JSON with the whole plan, synced in
// a goroutine. A file that is gone, or takes nothing any more, is begun anew
// with the newest plan. A journal whose lock is free belongs to a bench that
// died: Pending lists what it holds.
package planfile
