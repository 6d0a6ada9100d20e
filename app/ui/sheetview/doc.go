// Package sheetview is the sheet in the middle of the window: the map area with
// the plan drawn over it, what a drag reads or moves, the offer to keep a reading,
// and what the pointer and the selection write into the foot line and onto the
// dial. It knows no panel. The panel that is shown holds the tool by SetTool and
// adds its own things to the drawing by AddLayer.
//
// It computes no bearing: app/session reads, and this room shows what came of it.
//
// # Repainting
//
// A drawing of the plan is asked for by Redraw and made once the act is over,
// however many asked. While something is dragged each event of the pointer paints
// the dial, the foot line and what lies over the sheet, once each, and nothing else.
//
// All methods belong to the main thread.
package sheetview
