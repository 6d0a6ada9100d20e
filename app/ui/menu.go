package ui

import (
	"path/filepath"
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/ui/look"
)

// menuState holds the items that change their words or can be unusable.
type menuState struct {
	undo, redo, recent *fyne.MenuItem
	grid, truth        *fyne.MenuItem
	look, invert       *fyne.MenuItem
	whole, local       *fyne.MenuItem
	moving             *fyne.MenuItem
	light, dark, auto  *fyne.MenuItem
	main               *fyne.MainMenu
	showGrid           bool // the believed grid is drawn at every post
	last               string
}

// key is a shortcut with the platform's main modifier.
func key(name fyne.KeyName, more ...fyne.KeyModifier) fyne.KeyboardShortcut {
	m := fyne.KeyModifierShortcutDefault
	for _, k := range more {
		m |= k
	}
	return &desktop.CustomShortcut{KeyName: name, Modifier: m}
}

// item is a menu entry that names its shortcut. A shortcut does nothing while
// a dialog waits for its answer.
func (b *Bench) item(text string, s fyne.KeyboardShortcut, do func()) *fyne.MenuItem {
	m := fyne.NewMenuItem(entryWords(text, s), func() {
		if !b.dialogOpen() {
			do()
		}
	})
	m.Shortcut = s
	if runtime.GOOS != "darwin" {
		m.Shortcut = nameless{s}
	}
	return m
}

// nameless is a shortcut that works but is not written by Fyne's menus, which
// write it so faintly that it cannot be read: the entry's own words name it.
type nameless struct{ fyne.Shortcut }

// entryWords is the text of an entry with its shortcut. A Mac's own menus
// write the shortcut themselves.
func entryWords(text string, s fyne.KeyboardShortcut) string {
	if runtime.GOOS == "darwin" {
		return text
	}
	words := ""
	for _, m := range []struct {
		mod  fyne.KeyModifier
		name string
	}{{fyne.KeyModifierControl, "Ctrl+"}, {fyne.KeyModifierAlt, "Alt+"}, {fyne.KeyModifierShift, "Shift+"}} {
		if s.Mod()&m.mod != 0 {
			words += m.name
		}
	}
	return text + "  (" + words + keyWord(s.Key()) + ")"
}

// keyWord is what stands on a key.
func keyWord(k fyne.KeyName) string {
	switch k {
	case fyne.KeyPageUp:
		return "Page Up"
	case fyne.KeyPageDown:
		return "Page Down"
	}
	return string(k)
}

// buildMenus makes the main menu. Every act of the bench has an entry here.
func (b *Bench) buildMenus() {
	m := &b.menus
	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	file := fyne.NewMenu("File",
		b.item("New plan", key(fyne.KeyN), func() { b.guard(b.newPlan) }),
		b.item("Open picture or plan…", key(fyne.KeyO), b.askOpen),
		m.recent,
		fyne.NewMenuItem("Open the demo", func() { b.guard(b.openDemo) }),
		fyne.NewMenuItem("Cancel opening", b.giveUpOpening),
		fyne.NewMenuItemSeparator(),
		b.item("Save plan", key(fyne.KeyS), func() { b.save(nil) }),
		b.item("Save plan as…", key(fyne.KeyS, fyne.KeyModifierShift), func() { b.saveAs(nil) }),
		fyne.NewMenuItem("Restore unsaved work…", b.askUnsaved),
		fyne.NewMenuItemSeparator(),
		b.item("Export legs as GPX…", key(fyne.KeyE), b.askExport),
		fyne.NewMenuItem("Export a rectified map…", b.askRectify),
		b.item("Import a GPX file…", key(fyne.KeyI), b.askImport),
		fyne.NewMenuItemSeparator(),
		quitItem(b),
	)
	m.main = fyne.NewMainMenu(file, b.editMenu(), b.viewMenu(), b.pictureMenu(), b.sheetMenu(), b.routeMenu(), b.helpMenu())
	b.window.SetMainMenu(m.main)
}

func quitItem(b *Bench) *fyne.MenuItem {
	q := b.item("Quit", key(fyne.KeyQ), b.quit)
	q.IsQuit = true
	return q
}

func (b *Bench) editMenu() *fyne.Menu {
	m := &b.menus
	m.undo = b.item("Undo", undoKey(), b.undo)
	m.redo = b.item("Redo", redoKey(), b.redo)
	return fyne.NewMenu("Edit", m.undo, m.redo, fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Remove what is selected  (Delete)", b.removeSelected),
		fyne.NewMenuItem("Select nothing  (Esc)", func() { b.s.Select("") }))
}

func (b *Bench) viewMenu() *fyne.Menu {
	m := &b.menus
	m.grid = fyne.NewMenuItem("Grid the sheet believes in", func() { m.showGrid = !m.showGrid; b.refreshAll() })
	m.truth = fyne.NewMenuItem("True bearing on the dial", b.toggleTrue)
	m.auto = fyne.NewMenuItem("Light or dark as the desktop", func() { b.setMode(look.Follow) })
	m.light = fyne.NewMenuItem("Light", func() { b.setMode(look.LightMode) })
	m.dark = fyne.NewMenuItem("Dark", func() { b.setMode(look.DarkMode) })
	return fyne.NewMenu("View",
		b.item("Whole sheet", key(fyne.Key0), b.sheet.Fit),
		b.item("Pixel for pixel", key(fyne.Key0, fyne.KeyModifierShift), b.sheet.OneToOne),
		b.item("Nearer", key(fyne.KeyEqual), func() { b.sheet.ZoomBy(zoomStep) }),
		b.item("Farther", key(fyne.KeyMinus), func() { b.sheet.ZoomBy(1 / zoomStep) }),
		b.item("Grid north up", key(fyne.KeyG), b.gridNorthUp),
		b.item("Picture upright", key(fyne.KeyG, fyne.KeyModifierShift), func() { b.sheet.RotateTo(0) }),
		b.item("Find the selected", key(fyne.KeyF), func() { b.findThing(b.selectedID()) }),
		fyne.NewMenuItemSeparator(), m.grid, m.truth,
		b.item("Fold the ledger", key(fyne.KeyL, fyne.KeyModifierShift), b.foldLedger),
		fyne.NewMenuItemSeparator(), m.auto, m.light, m.dark)
}

// zoomStep is the factor of one step by key.
const zoomStep = 1.5

func (b *Bench) sheetMenu() *fyne.Menu {
	m := &b.menus
	m.local = b.item("Error over the sheet", key(fyne.KeyB), b.toggleError)
	return fyne.NewMenu("Sheet",
		b.item("Go to Sheet", key(fyne.Key1), func() { b.goTo(postSheet) }),
		fyne.NewMenuItem("Another sheet…", b.askSheet),
		b.item("Next sheet", key(fyne.KeyPageDown), func() { b.stepSheet(1) }),
		b.item("Sheet before", key(fyne.KeyPageUp), func() { b.stepSheet(-1) }),
		fyne.NewMenuItem("Take this sheet out of the plan", b.removeSheetInHand),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Choose the grid…", b.askGrid),
		b.item("Find the printed grid", key(fyne.KeyR), b.findPrintedGrid),
		fyne.NewMenuItem("Take the grid that was found", b.takeFound),
		fyne.NewMenuItem("Let the grid go that was found  (Esc)", func() { b.letGridGo() }),
		fyne.NewMenuItem("Keep the point aimed at  (Return)", b.sheetP.keepPoint),
		b.item("Use the feature aimed at as check", key(fyne.KeyReturn), b.sheetP.addEvidence),
		fyne.NewMenuItem("Remove the chosen control point", b.removePoint),
		fyne.NewMenuItemSeparator(),
		m.local,
		b.item("Longer arrows at the points", key(fyne.KeyUp, fyne.KeyModifierShift), func() { b.stepArrows(1) }),
		b.item("Shorter arrows at the points", key(fyne.KeyDown, fyne.KeyModifierShift), func() { b.stepArrows(-1) }),
		fyne.NewMenuItem("Arrows as suits the view", func() { b.setArrows(0) }),
	)
}

func (b *Bench) routeMenu() *fyne.Menu {
	m := &b.menus
	m.moving = b.item("Move marks and ends by dragging", key(fyne.KeyT), b.toggleMoving)
	return fyne.NewMenu("Route",
		b.item("Go to Route", key(fyne.Key2), func() { b.goTo(postRoute) }),
		fyne.NewMenuItem("Keep as leg  (L)", b.keepLeg),
		fyne.NewMenuItem("Keep as sight  (S)", b.keepSight),
		fyne.NewMenuItem("Let go  (Esc)", b.letGo),
		fyne.NewMenuItemSeparator(),
		b.item("Mark at a reference…", key(fyne.KeyM), b.askMark),
		fyne.NewMenuItem("Typed leg", func() { b.goTo(postRoute); b.routeP.showTyped() }),
		m.moving,
		fyne.NewMenuItem("Turn the selected leg round", func() { b.try(b.s.ReverseLeg(b.selectedID()), "") }),
		b.item("Selected leg earlier", key(fyne.KeyUp), func() { b.moveRow(string(b.selectedID()), -1) }),
		b.item("Selected leg later", key(fyne.KeyDown), func() { b.moveRow(string(b.selectedID()), 1) }),
		b.item("Go to the ledger", key(fyne.KeyL), func() { b.window.Canvas().Focus(b.ledger) }),
		b.item("Go to the sheet", key(fyne.KeyJ), b.focusSheet),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Marks", func() { b.goTo(postRoute); b.routeP.showSection(sectionMarks) }),
		fyne.NewMenuItem("Sights", func() { b.goTo(postRoute); b.routeP.showSection(sectionSights) }),
		fyne.NewMenuItem("Outing: title and date", func() { b.goTo(postRoute); b.routeP.showSection(sectionOuting) }),
		fyne.NewMenuItem("Party and compass…", b.askParty))
}

func (b *Bench) helpMenu() *fyne.Menu {
	return fyne.NewMenu("Help",
		b.item("Before you walk: cautions", key(fyne.KeyH), b.showCautions),
		fyne.NewMenuItem("Keys…", b.showKeys),
		fyne.NewMenuItem("Welcome", b.showWelcome),
		b.item("Diagnostics…", key(fyne.KeyD, fyne.KeyModifierShift), b.showDiagnostics),
		fyne.NewMenuItem("Sources and licences…", b.showNotices),
		fyne.NewMenuItem("About…", b.showAbout))
}

// refreshMenus brings the entries that change up to date.
func (b *Bench) refreshMenus() {
	m := &b.menus
	if m.main == nil {
		return
	}
	m.undo.Label, m.undo.Disabled = entryWords(named("Undo", b.s.UndoName()), undoKey()), b.s.UndoName() == ""
	m.redo.Label, m.redo.Disabled = entryWords(named("Redo", b.s.RedoName()), redoKey()), b.s.RedoName() == ""
	m.grid.Checked, m.truth.Checked = m.showGrid, b.dial.ShowsTrue()
	m.moving.Checked, m.whole.Checked = b.moving, b.set.whole()
	m.local.Checked = b.sheetP.knows.error.on
	m.look.Checked, m.invert.Checked = b.look.body.Visible(), b.set.pictureLook().Invert
	mode := b.set.mode()
	m.auto.Checked, m.light.Checked, m.dark.Checked = mode == look.Follow, mode == look.LightMode, mode == look.DarkMode
	m.recent.ChildMenu.Items = nil
	state := m.undo.Label + m.redo.Label
	for _, path := range b.set.recent() {
		state += path
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items,
			fyne.NewMenuItem(filepath.Base(path), func() { b.open(path) }))
	}
	m.recent.Disabled = len(m.recent.ChildMenu.Items) == 0
	if state != m.last { // building the menu bar again is dear
		m.last = state
		m.main.Refresh()
	}
}

func named(verb, step string) string {
	if step == "" {
		return verb
	}
	return verb + ": " + step
}

// undoKey and redoKey are Fyne's own: the toolkit turns these keys into them
// before any other shortcut.
func undoKey() fyne.KeyboardShortcut { return &fyne.ShortcutUndo{} }

func redoKey() fyne.KeyboardShortcut { return &fyne.ShortcutRedo{} }
