// Package mapview is the widget that shows the sheet. It paints the tiles of
// a pyramid, the overlay and what is being dragged, hands events to the
// machine of canvas/tool, and tells its owner through Callbacks what a person
// means. It never reaches into the application: what it shows is set from
// outside, and it changes no plan.
//
// # Painting
//
// From below: a plain ground, the tiles (coarser or finer ones only under those
// that are missing), the overlay, which is one transparent picture for everything
// committed, and a few objects for what is being dragged. Tiles and overlay are
// moved and resized without a new upload to the graphics card (see placer.go).
// The overlay is larger than the map area and drawn by a goroutine: a pan moves
// it, a zoom stretches it until the next one is ready. At most ten tiles become
// textures in a frame.
//
// # Moves
//
// Fit, one to one, turns and moves to a place take 180 ms (glide), unless the
// person wants no motion. A press or the wheel stops them where they are seen,
// a key brings them to their end first. The wheel and key zooms act at once.
// While the sheet turns it is drawn into the overlay, because textures cannot
// turn; tiles take over when they are there. Tiles are made ahead along the
// movement (drift), after those on screen.
//
// # Threads
//
// All methods belong to the window's main thread, as the toolkit wants it.
// Workers that make tiles report through fyne.Do, several tiles in one call.
package mapview
