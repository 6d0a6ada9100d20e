// Package files is what a person does with files at the bench: it opens and saves
// plans, exports and imports GPX, exports rectified maps, restores the work that a
// crash left, and decides what a start opens. It asks before anything is lost.
//
// It opens no picture itself (app/ui/opening does) and writes no format (mapio does).
// What takes time runs as a job beside the window, so that the window never waits for
// a drive. Everything else here belongs to Fyne's main thread.
package files
