// Package planfile writes and reads plans: the file NAME.legplan and the
// journal that outlives a crash. It meets the session's Store and Journal. It
// edits nothing and asks nothing.
//
// # The file
//
// One JSON object in UTF-8, with "format": "legwright-plan" and "version": 1.
// Lengths are metres, picture points pixels, angles degrees; each key carries
// its unit. A position has its grid coordinates with the EPSG code or the
// definition of its grid, its origin and its σ. Pictures are named relative to the
// plan. Unknown keys of the plan and of its sheets are kept and written back. A key
// in wrong capitals, a repeated key and null are refused. Every list has a limit
// that is checked before anything is decoded. A file of a newer version is refused.
//
// Saving follows package atomicfile and keeps the previous plan as
// NAME.legplan.bak. At every moment either the old or the new plan is complete on
// the disk.
//
// # The journal
//
// Each running bench has one file, in the first state folder of the user that can
// be written. A lock guards it, which the system releases when the process dies.
// Each completed act adds one line of JSON with the whole plan, synced in a
// goroutine. If the file is deleted or cannot be written, a new one starts with the
// newest plan. A journal with a free lock belongs to a bench that crashed: Pending
// lists its work.
package planfile
