package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
)

// lookStep is one step of contrast or fade by key.
const lookStep = 0.1

// pictureMenu holds what concerns the picture and not the plan.
func (b *Bench) pictureMenu() *fyne.Menu {
	m := &b.menus
	m.look = b.item("Contrast, fade, night…", key(fyne.KeyK), b.toggleLook)
	m.invert = b.item("Dark for the night", key(fyne.KeyK, fyne.KeyModifierShift), b.invertPicture)
	m.whole = b.item("Whole sheet in the corner", key(fyne.KeyW, fyne.KeyModifierShift), b.toggleWhole)
	return fyne.NewMenu("Picture",
		m.look,
		b.item("More contrast", key(fyne.KeyPeriod), func() { b.stepLook(lookStep, 0) }),
		b.item("Less contrast", key(fyne.KeyComma), func() { b.stepLook(-lookStep, 0) }),
		b.item("More faded", key(fyne.KeyPeriod, fyne.KeyModifierShift), func() { b.stepLook(0, lookStep) }),
		b.item("Less faded", key(fyne.KeyComma, fyne.KeyModifierShift), func() { b.stepLook(0, -lookStep) }),
		m.invert,
		b.item("As it is", key(fyne.KeyU, fyne.KeyModifierShift), b.plainPicture),
		fyne.NewMenuItemSeparator(),
		m.whole,
		fyne.NewMenuItem("Page and resolution…", b.askPage),
		fyne.NewMenuItem("Find the picture…", b.findPicture),
		fyne.NewMenuItem("Clear stored pictures…", b.askClearStore),
	)
}

// askClearStore empties the folder of stored pictures.
func (b *Bench) askClearStore() {
	store := b.picture.source.store
	if store == nil {
		b.say("No pictures are stored: there is no folder for them.")
		return
	}
	bytes, sheets := store.Size()
	if sheets == 0 {
		b.say("No pictures are stored.")
		return
	}
	text := fmt.Sprintf("%s in %s, kept so that known pictures open at once. "+
		"The pictures' own files and your plans are not touched.\n\nClear them?", countWords(sheets, "picture"), megabytes(bytes))
	b.ask("Clear stored pictures", text, func() {
		b.try(store.Clear(), "Stored pictures cleared: "+megabytes(bytes)+".")
	})
}

// countWords writes a number of things.
func countWords(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// megabytes writes a size of memory.
func megabytes(n int64) string {
	switch {
	case n <= 0:
		return "0 MB"
	case n < 10_000_000:
		return fmt.Sprintf("%.1f MB", float64(n)/1e6)
	}
	return fmt.Sprintf("%.0f MB", float64(n)/1e6)
}
