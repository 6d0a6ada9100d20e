// Package mapview is the widget that shows the sheet. It paints the tiles of
// a pyramid, the overlay and what is being dragged, hands events to the
// machine of canvas/tool, and tells its owner through Callbacks what a person
// means. It never reaches into the application: what it shows is set from
// outside, and it changes no plan.
//
// # Painting
//
// From below lie a plain ground, the tile layer, the overlay layer and a few objects
// for what is being dragged. The tile layer holds placed tiles, each with its pixels
// as a texture; coarser or finer ones stand only under those that are missing. Its
// source has the tiles of one turn of the view: uprightTiles are the pyramid's own,
// rotatedTiles are cut from it. The overlay layer is one transparent picture of
// everything committed. Tiles and overlay are moved and resized without a new upload
// to the graphics card (see placer.go).
//
// The overlay is larger than the map area by a margin and drawn by a goroutine: a pan
// moves it, a zoom stretches it until the next one is ready. At most ten tiles become
// textures in a frame. At display scales other than 1 the toolkit paints the canvas
// some pixels off; the paint offset says how far, so that every click finds its pixel.
//
// # Moves
//
// Fit, one to one, turns and moves to a place take 180 ms (glide), unless the
// person wants no motion. A press or the wheel stops them where they are seen,
// a key brings them to their end first. The wheel and key zooms act at once.
// While the sheet turns it is drawn into the overlay, because textures cannot
// turn; tiles take over when they are there. Tiles are made ahead along the
// movement (velocity), after those on screen.
//
// # Threads
//
// All methods belong to the window's main thread, as the toolkit wants it.
// Workers that make tiles report through fyne.Do, several tiles in one call.
package mapview
