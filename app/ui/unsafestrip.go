package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
)

// unsafeWords stand above the foot line while unsaved work cannot be kept against
// a crash.
const unsafeWords = "Crash protection is off: a crash now would lose all unsaved work. Save the plan now."

// newUnsafeStrip returns the line with unsafeWords, hidden at first. It has a row
// of its own, so that no message replaces it.
func newUnsafeStrip(b *Bench) *widgets.Surface {
	words := widget.NewLabel(unsafeWords)
	words.Importance, words.Truncation = widget.DangerImportance, fyne.TextTruncateEllipsis
	save := widgets.NewTextTool("", "Save", "Save the plan to its file", func() { b.files.Saver.Save(nil) })
	why := widgets.NewTextTool("", "Why…", "What is wrong, and what to do", b.tellUnsafe)
	save.OnHint, why.OnHint = b.hintTo, b.hintTo
	s := widgets.NewSurface(container.NewBorder(nil, nil, nil, container.NewHBox(save, why), words), widgets.Top, 2)
	s.Hide()
	return s
}

// keepIn gives the bench its journal and shows whether it can be written.
func (b *Bench) keepIn(j *planfile.Journal, dirs []string) {
	b.journal = j
	b.files.Recovery.Journals(dirs, j)
	j.OnFault(func() { b.later(b.showUnsafe) })
	b.showUnsafe()
}

// showUnsafe shows that line while the journal cannot be written, and reports when
// it can be written again.
func (b *Bench) showUnsafe() {
	unsafe := b.journal != nil && b.journal.Err() != nil
	if unsafe == b.unsafe.Visible() {
		return
	}
	if unsafe {
		b.unsafe.Show()
	} else {
		b.unsafe.Hide()
		b.say("Crash protection is on again: unsaved work is kept.")
	}
	b.root.Refresh()
	b.probe.touch()
}

// tellUnsafe says why unsaved work cannot be kept, where, and what to do.
func (b *Bench) tellUnsafe() {
	err := b.journal.Err()
	if err == nil {
		return // the journal works again since a moment ago
	}
	b.tell("Crash protection is off", "Unsaved work cannot be kept against a crash:\n"+err.Error()+"\n\n"+
		"Save the plan now. Then free some space on that disk, or make one of the folders writable. "+
		"The program tries again every two seconds, and this caution disappears once it works.")
}
