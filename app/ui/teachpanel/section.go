package teachpanel

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/sheetview"
	"legwright/canvas/overlay"
)

// section is one job of the panel.
type section interface {
	// body is what the panel shows while the job is chosen.
	body() fyne.CanvasObject
	// tool is what the job makes of the sheet.
	tool() sheetview.Tool
	// draw adds to the drawing of the sheet while the job is in front.
	draw(*overlay.Scene)
	// show tells the job that it came to the front, or went.
	show(on bool)
	// key takes a key pressed on the sheet, and reports whether the job has a use for it.
	// A job with letters of its own is lettered too; one with a method fill is filled
	// anew while it is seen, after each change of lesson or plan.
	key(*fyne.KeyEvent) bool
}

// Job names a section. Its number is its place in the chooser.
type Job int

// The jobs, in the order of the chooser.
const (
	Show Job = iota
	Guess
	Identify
	TwoPeople
	Compass
)

// title is the job's word in the chooser.
func (j Job) title() string {
	switch j {
	case Guess:
		return "Guess"
	case Identify:
		return "On a bearing"
	case TwoPeople:
		return "Two people"
	case Compass:
		return "Compass"
	}
	return "Show"
}

// hint says what the job is for.
func (j Job) hint() string {
	switch j {
	case Guess:
		return "Let the group guess a bearing, distance, climb or time before you show the figure"
	case Identify:
		return "Turn to a bearing and see which marks may lie on it and which cannot"
	case TwoPeople:
		return "Two people each take a bearing: do they mean the same feature?"
	case Compass:
		return "Go through the steps with the compass, done right or wrong"
	}
	return "Show grid north and magnetic north at the start of a line, and the angle between them"
}
