package ui

import "fmt"

// askClearStore empties the folder of stored pictures.
func (b *Bench) askClearStore() {
	store := b.desk.Source().Store
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
	b.dialogs.Warn("Clear stored pictures", text, "Clear", func() {
		b.try(store.Clear(), "Stored pictures cleared: "+megabytes(bytes)+".")
	}, nil)
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
