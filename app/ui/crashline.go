package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
)

// crashLine says above the foot line that unsaved work cannot be kept against a crash,
// for as long as that is so. It has a row of its own, so that no message replaces it.
type crashLine struct {
	*widgets.Surface
	around  around
	line    *foot.Line
	dialogs *ask.Dialogs
	journal *planfile.Journal // nil in a bench without one
}

// crashWords stand in the line.
const crashWords = "Crash protection is off: a crash now would lose all unsaved work. Save the plan now."

func newCrashLine(line *foot.Line, dialogs *ask.Dialogs, save func(), w around) *crashLine {
	c := &crashLine{around: w, line: line, dialogs: dialogs}
	words := widget.NewLabel(crashWords)
	words.Importance, words.Truncation = widget.DangerImportance, fyne.TextTruncateEllipsis
	saves := widgets.NewTextTool("", "Save", "Save the plan to its file", save)
	why := widgets.NewTextTool("", "Why…", "Show what is wrong and what to do", c.tellWhy)
	saves.OnHint, why.OnHint = line.Hint, line.Hint
	c.Surface = widgets.NewSurface(container.NewBorder(nil, nil, nil, container.NewHBox(saves, why), words), widgets.Top, 2)
	c.Hide()
	return c
}

// watch shows from now on whether a journal can be written. later runs a function on
// the main thread.
func (c *crashLine) watch(j *planfile.Journal, later func(func())) {
	c.journal = j
	j.OnFault(func() { later(c.refresh) })
	c.refresh()
}

// refresh shows the line while the journal cannot be written, and says when it can be
// written again.
func (c *crashLine) refresh() {
	off := c.journal != nil && c.journal.Err() != nil
	if off == c.Visible() {
		return
	}
	visible(c, off)
	if !off {
		c.line.Say("Crash protection is on again: unsaved work is kept.")
	}
	c.around.arrange()
	c.around.changed()
}

// tellWhy says why unsaved work cannot be kept, where, and what to do.
func (c *crashLine) tellWhy() {
	err := c.journal.Err()
	if err == nil {
		return // the journal works again since a moment ago
	}
	c.dialogs.Tell("Crash protection is off", "Unsaved work would be lost in a crash:\n"+err.Error()+"\n\n"+
		"Save the plan now. Then free some space on the disk, or make one of the folders named above writable. "+
		"The program tries again every two seconds, and this caution disappears once it works.")
}
