package benchtest

import (
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/ui/teachpanel"
)

// Entries are the entries of all menus that can be chosen.
func (b *Bench) Entries() []*fyne.MenuItem {
	var out []*fyne.MenuItem
	var add func([]*fyne.MenuItem)
	add = func(items []*fyne.MenuItem) {
		for _, i := range items {
			if i.ChildMenu != nil {
				add(i.ChildMenu.Items)
			} else if !i.IsSeparator {
				out = append(out, i)
			}
		}
	}
	for _, m := range b.MainMenu().Items {
		add(m.Items)
	}
	return out
}

// words are those of an entry without its key, and without the step that Undo and Redo name.
func words(label string) string {
	label, _, _ = strings.Cut(label, "  (")
	for _, verb := range []string{"Undo", "Redo"} {
		if strings.HasPrefix(label, verb+": ") {
			return verb
		}
	}
	return label
}

// Entry is the entry of the menus with certain words, wherever it stands, with its key or
// without.
func (b *Bench) Entry(text string) *fyne.MenuItem {
	b.t.Helper()
	for _, i := range b.Entries() {
		if words(i.Label) == words(text) {
			return i
		}
	}
	b.t.Fatalf("no menu has %q", text)
	return nil
}

// Choose chooses an entry of the menus by its words, or presses its key, which works too
// while the entry is grey.
func (b *Bench) Choose(text string) {
	b.t.Helper()
	i := b.Entry(text)
	if i.Disabled && i.Shortcut == nil || i.Action == nil {
		b.t.Fatalf("the entry %q cannot act", i.Label)
	}
	i.Action()
}

// Undo presses the key of Undo.
func (b *Bench) Undo() { b.Choose("Undo") }

// Redo presses the key of Redo.
func (b *Bench) Redo() { b.Choose("Redo") }

// Opening reports whether a picture is being opened, which the menu can cancel.
func (b *Bench) Opening() bool { return !b.Entry("Cancel opening").Disabled }

// Asks reports whether something lies over the bench and waits for an answer.
func (b *Bench) Asks() bool { return b.Canvas().Overlays().Top() != nil }

// Answer presses the button of the question that stands open.
func (b *Bench) Answer(text string) {
	b.t.Helper()
	if !b.Asks() {
		b.t.Fatalf("no question stands open to be answered %q", text)
	}
	b.Tap(b.t, text)
}

// Escape presses Escape.
func (b *Bench) Escape() { b.Key(fyne.KeyEscape) }

// Questions counts what lies over the bench.
func (b *Bench) Questions() int { return len(b.Canvas().Overlays().List()) }

// Job chooses a job of the Teach panel.
func (b *Bench) Job(which teachpanel.Job) {
	b.t.Helper()
	b.Choose(map[teachpanel.Job]string{
		teachpanel.Show: "Show a line", teachpanel.Guess: "Guess a bearing, distance, climb or time", teachpanel.Identify: "See what lies on a bearing",
		teachpanel.TwoPeople: "Compare the bearings of two people", teachpanel.Compass: "Step through the compass",
	}[which])
}

// Keys presses a key a number of times.
func (b *Bench) Keys(times int, name fyne.KeyName) {
	for range times {
		b.Key(name)
	}
}
