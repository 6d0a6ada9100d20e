// Package tool says what pressing, dragging and releasing on the sheet mean,
// tool by tool: a Machine takes pointer and keyboard events and gives back
// Intents. It draws nothing, changes no plan, and knows neither windows nor
// the widget toolkit; whoever owns the machine carries the intents out.
//
// The middle button, or the left one while Space is held, pans in every tool.
// A press that follows a click within 400 ms near the same place is a double
// click at once; no click waits for another.
//
// Without a mouse, a keyboard cursor stands in for the pointer: arrows move
// it by 1 screen pixel, with Shift by 10, and one key presses and releases.
package tool
