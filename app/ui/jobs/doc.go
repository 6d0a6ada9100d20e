// Package jobs runs long work beside the window: it starts it, passes on how far
// it has come, cancels it, and makes sure that the latest wins. It knows neither
// the window nor what the work is.
//
// A Slot holds one kind of work, such as importing a file. Its methods belong to
// one goroutine, the main thread of the window, and so do the functions it calls:
// they come back through the function given to NewSlot. The work itself runs on a
// goroutine of its own. After Cancel, or after another Start, the slot drops
// whatever the earlier work still brings: neither its progress nor its end arrives.
package jobs
