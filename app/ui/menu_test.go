package ui

import (
	"runtime"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
)

// entries lists the entries of all menus that can be chosen.
func entries(b *Bench) []*fyne.MenuItem {
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
	for _, m := range b.frame.menus.main.Items {
		add(m.Items)
	}
	return out
}

// chooseAll chooses every entry but those that end the bench or open other
// plans, and puts away what opens.
func chooseAll(t *testing.T, b *Bench) {
	t.Helper()
	for _, i := range entries(b) {
		if i.Action == nil {
			t.Errorf("%q does nothing", i.Label)
			continue
		}
		if i.IsQuit || strings.HasPrefix(i.Label, "Open the demo") || strings.HasPrefix(i.Label, "ground.png") {
			continue
		}
		i.Action()
		for n := 0; b.dialogs.Waiting(); n++ {
			if n > 5 {
				t.Fatalf("%q opens what Escape does not close", i.Label)
			}
			b.escape()
		}
	}
}

func TestEveryMenuEntryStands(t *testing.T) {
	for name, made := range map[string]func(*testing.T) *Bench{"empty": stand, "with a plan": withALeg} {
		b := made(t)
		chooseAll(t, b)
		if err := b.s.Plan().Validate(); err != nil {
			t.Errorf("%s: the plan is broken: %v", name, err)
		}
	}
}

// withALeg is a bench with a mark, a leg that is selected, and a sight.
func withALeg(t *testing.T) *Bench {
	b := calibrated(t)
	b.goTo(panelRoute)
	b.view.NewMark(picAt(50, 50))
	drag(b, 100, 200, 200, 200)
	b.view.Offer().KeepSight()
	drag(b, 100, 200, 200, 100)
	b.view.Offer().KeepLeg()
	if b.s.Selection().Kind != plan.OfLeg {
		t.Fatal("the kept leg is not selected")
	}
	return b
}

// Every entry with a shortcut names it, no shortcut is taken twice, and none
// is one that a field needs for its text.
func TestMenusNameTheirShortcuts(t *testing.T) {
	if runtime.GOOS == "darwin" {
		t.Skip("there the system's menus write the shortcuts")
	}
	b := withALeg(t)
	taken := map[string]string{}
	for _, i := range entries(b) {
		s, ok := i.Shortcut.(nameless)
		if !ok {
			continue
		}
		k := s.Shortcut.(fyne.KeyboardShortcut)
		if !strings.HasSuffix(i.Label, keyWord(k.Key())+")") || !strings.Contains(i.Label, "Ctrl+") {
			t.Errorf("%q does not name its shortcut %s", i.Label, keyWord(k.Key()))
		}
		if other, ok := taken[i.Shortcut.ShortcutName()]; ok {
			t.Errorf("%q and %q have the same shortcut", other, i.Label)
		}
		taken[i.Shortcut.ShortcutName()] = i.Label
		switch s.Shortcut.(type) {
		case *fyne.ShortcutUndo, *fyne.ShortcutRedo:
			continue // they lead on to the field
		}
		if k.Mod() == fyne.KeyModifierControl && strings.Contains("ACVX", string(k.Key())) {
			t.Errorf("%q takes a key of every text field", i.Label)
		}
	}
	if len(taken) < 20 {
		t.Errorf("%d entries have shortcuts, want at least 20", len(taken))
	}
	for _, words := range []string{"Keep as leg  (L)", "Keep as sight  (S)", "Discard reading  (Esc)", "Delete selection  (Delete)"} {
		found := false
		for _, i := range entries(b) {
			found = found || i.Label == words
		}
		if !found {
			t.Errorf("no entry %q", words)
		}
	}
}

// An entry is grey while it cannot act, and only then.
func TestEntriesThatCannotActAreGrey(t *testing.T) {
	grey := func(b *Bench) map[string]bool {
		b.refreshMenus()
		out := map[string]bool{}
		for _, a := range b.frame.menus.able {
			words, _, _ := strings.Cut(a.item.Label, "  (")
			out[words] = a.item.Disabled
		}
		return out
	}
	for _, c := range []struct {
		name       string
		b          *Bench
		grey, live []string
	}{
		{"empty", stand(t), []string{"Export GPX…", "Export rectified map…", "Delete selection", "Zoom in", "Next sheet", "Keep as leg", "Reverse leg", "Undo", "Show accuracy"}, nil},
		{"with a leg", withALeg(t), []string{"Next sheet", "Keep as leg", "Keep control point", "Use the grid found"}, []string{"Export GPX…", "Export rectified map…", "Delete selection", "Zoom in", "Reverse leg", "Find the picture…", "Show accuracy"}},
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
	b := withALeg(t)
	drag(b, 100, 200, 300, 100)
	if grey(b)["Keep as leg"] {
		t.Error("a reading is offered and cannot be kept by the menu")
	}
}

// Undo says what it will take back.
func TestUndoEntryNamesTheStep(t *testing.T) {
	b := withALeg(t)
	if !strings.HasPrefix(b.frame.menus.undo.Label, "Undo: ") || b.frame.menus.undo.Disabled || !b.frame.menus.redo.Disabled {
		t.Errorf("undo %q, disabled %v, redo disabled %v", b.frame.menus.undo.Label, b.frame.menus.undo.Disabled, b.frame.menus.redo.Disabled)
	}
	b.undo()
	if !strings.HasPrefix(b.frame.menus.redo.Label, "Redo: ") || b.frame.menus.redo.Disabled {
		t.Errorf("redo %q, disabled %v", b.frame.menus.redo.Label, b.frame.menus.redo.Disabled)
	}
}
