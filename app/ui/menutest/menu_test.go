package menutest

import (
	"runtime"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/ui/benchtest"
)

// chooseAll chooses every entry but those that end the bench or open other
// plans, and puts away what opens.
func chooseAll(t *testing.T, b *benchtest.Bench) {
	t.Helper()
	for _, i := range b.Entries() {
		if i.Action == nil {
			t.Errorf("%q does nothing", i.Label)
			continue
		}
		if i.IsQuit || strings.HasPrefix(i.Label, "Open the demo") || strings.HasPrefix(i.Label, "ground.png") {
			continue
		}
		i.Action()
		for n := 0; b.Asks(); n++ {
			if n > 5 {
				t.Fatalf("%q opens what Escape does not close", i.Label)
			}
			b.Escape()
		}
	}
}

// The entries on an empty bench and on a small plan; TestDemo has them on a large one, and
// with the race detector on that alone.
func TestEveryMenuEntryStands(t *testing.T) {
	on := map[string]func(testing.TB) *benchtest.Bench{"empty": benchtest.Open, "with a plan": benchtest.WithALeg}
	if testing.Short() {
		delete(on, "with a plan")
	}
	for name, made := range on {
		b := made(t)
		chooseAll(t, b)
		if err := b.Plan().Validate(); err != nil {
			t.Errorf("%s: the plan is broken: %v", name, err)
		}
	}
}

// keysOf names the keys of a shortcut as they are printed.
func keysOf(s fyne.Shortcut) string {
	_, keys, custom := strings.Cut(s.ShortcutName(), ":")
	if !custom { // these two lead on to the field with the focus
		return map[string]string{"Undo": "Ctrl+Z", "Redo": "Ctrl+Y"}[s.ShortcutName()]
	}
	parts := strings.Split(keys, "+")
	out := ""
	if slices.Contains(parts, "Control") {
		out = "Ctrl+"
	}
	for _, mod := range []string{"Alt", "Shift"} {
		if slices.Contains(parts, mod) {
			out += mod + "+"
		}
	}
	key := parts[len(parts)-1]
	if word, ok := map[string]string{string(fyne.KeyPageUp): "Page Up", string(fyne.KeyPageDown): "Page Down"}[key]; ok {
		key = word
	}
	return out + key
}

// Every entry with a shortcut names it, no shortcut is taken twice, and none
// is one that a field needs for its text.
func TestMenusNameTheirShortcuts(t *testing.T) {
	if runtime.GOOS == "darwin" {
		t.Skip("there the system's menus write the shortcuts")
	}
	b := benchtest.WithALeg(t)
	taken := map[string]string{}
	for _, i := range b.Entries() {
		if i.Shortcut == nil {
			continue
		}
		keys := keysOf(i.Shortcut)
		if !strings.HasSuffix(i.Label, "  ("+keys+")") || !strings.Contains(keys, "Ctrl+") {
			t.Errorf("%q does not name its shortcut %s", i.Label, keys)
		}
		if other, ok := taken[keys]; ok {
			t.Errorf("%q and %q have the same shortcut", other, i.Label)
		}
		taken[keys] = i.Label
		if name, plain := strings.CutPrefix(keys, "Ctrl+"); plain && strings.Contains("ACVX", name) {
			t.Errorf("%q takes a key of every text field", i.Label)
		}
	}
	if len(taken) < 20 {
		t.Errorf("%d entries have shortcuts, want at least 20", len(taken))
	}
	for _, words := range []string{"Keep as leg  (L)", "Keep as sight  (S)", "Discard reading  (Esc)", "Delete selection  (Delete)"} {
		found := false
		for _, i := range b.Entries() {
			found = found || i.Label == words
		}
		if !found {
			t.Errorf("no entry %q", words)
		}
	}
}

// An entry is grey while it cannot act, and only then.
func TestEntriesThatCannotActAreGrey(t *testing.T) {
	grey := func(b *benchtest.Bench) map[string]bool {
		out := map[string]bool{}
		for _, i := range b.Entries() {
			words, _, _ := strings.Cut(i.Label, "  (")
			out[words] = i.Disabled
		}
		return out
	}
	for _, c := range []struct {
		name       string
		b          *benchtest.Bench
		grey, live []string
	}{
		{"empty", benchtest.Open(t), []string{"Export…", "Pack plan…", "Copy ledger", "Export rectified map…", "Delete selection", "Zoom in", "Next sheet", "Keep as leg", "Reverse leg", "Undo", "Show accuracy"}, nil},
		{"with a leg", benchtest.WithALeg(t), []string{"Next sheet", "Keep as leg", "Keep control point", "Use the grid found"}, []string{"Export…", "Pack plan…", "Copy ledger", "Export rectified map…", "Delete selection", "Zoom in", "Reverse leg", "Find the picture…", "Show accuracy"}},
	} {
		got := grey(c.b)
		for _, name := range c.grey {
			if on, known := got[name]; !known || !on {
				t.Errorf("%s: %q is not grey (known %v)", c.name, name, known)
			}
		}
		for _, name := range c.live {
			if on, known := got[name]; !known || on {
				t.Errorf("%s: %q is grey (known %v)", c.name, name, known)
			}
		}
	}
	b := benchtest.WithALeg(t)
	b.Mouse.Drag(100, 200, 300, 100)
	if grey(b)["Keep as leg"] {
		t.Error("a reading is offered and cannot be kept by the menu")
	}
}

// Undo says what it will take back.
func TestUndoEntryNamesTheStep(t *testing.T) {
	b := benchtest.WithALeg(t)
	if !strings.HasPrefix(b.Entry("Undo").Label, "Undo: ") || b.Entry("Undo").Disabled || !b.Entry("Redo").Disabled {
		t.Errorf("undo %q, disabled %v, redo disabled %v", b.Entry("Undo").Label, b.Entry("Undo").Disabled, b.Entry("Redo").Disabled)
	}
	b.Undo()
	if !strings.HasPrefix(b.Entry("Redo").Label, "Redo: ") || b.Entry("Redo").Disabled {
		t.Errorf("redo %q, disabled %v", b.Entry("Redo").Label, b.Entry("Redo").Disabled)
	}
}
