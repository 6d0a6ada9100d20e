// Package mapview is the widget that shows the sheet. It paints the tiles of
// a pyramid, the overlay and what is being dragged, hands events to the
// machine of canvas/tool, and tells its owner through Callbacks what a person
// means. It never reaches into the application: what it shows is set from
// outside, and it changes no plan.
//
// # Painting
//
// From below: a plain ground, the tiles (coarser ones only under those that
// are missing), one transparent picture for everything committed, and a few
// objects for what is being dragged. Tiles are moved and resized without a
// new upload to the graphics card (see placer.go); the overlay is redrawn at
// most once a frame, when the frame is painted.
//
// # Threads
//
// All methods belong to the window's main thread, as the toolkit wants it.
// Workers that make tiles report through fyne.Do, several tiles in one call.
package mapview
