package ui

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/ui/look"
)

// menuState holds the items that change their words or can be unusable.
type menuState struct {
	undo, redo, recent *fyne.MenuItem
	grid, truth        *fyne.MenuItem
	light, dark, auto  *fyne.MenuItem
	main               *fyne.MainMenu
	showGrid           bool // the believed grid is drawn at every post
	last               string
}

// key is a shortcut with the platform's main modifier.
func key(name fyne.KeyName, more ...fyne.KeyModifier) fyne.Shortcut {
	m := fyne.KeyModifierShortcutDefault
	for _, k := range more {
		m |= k
	}
	return &desktop.CustomShortcut{KeyName: name, Modifier: m}
}

// item is a menu entry with its shortcut.
func item(text string, s fyne.Shortcut, do func()) *fyne.MenuItem {
	m := fyne.NewMenuItem(text, do)
	m.Shortcut = s
	return m
}

// buildMenus makes the main menu. Every act of the bench has an entry here.
func (b *Bench) buildMenus() {
	m := &b.menus
	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	file := fyne.NewMenu("File",
		item("New plan", key(fyne.KeyN), func() { b.guard(b.newPlan) }),
		item("Open picture or plan…", key(fyne.KeyO), b.askOpen),
		m.recent,
		fyne.NewMenuItem("Open the demo", func() { b.guard(b.openDemo) }),
		fyne.NewMenuItemSeparator(),
		item("Save plan", key(fyne.KeyS), func() { b.save(nil) }),
		item("Save plan as…", key(fyne.KeyS, fyne.KeyModifierShift), func() { b.saveAs(nil) }),
		fyne.NewMenuItemSeparator(),
		item("Write legs as GPX…", key(fyne.KeyE), b.askExport),
		item("Bring in a GPX file…", key(fyne.KeyI), b.askImport),
		fyne.NewMenuItemSeparator(),
		quitItem(b),
	)
	m.main = fyne.NewMainMenu(file, b.editMenu(), b.viewMenu(), b.sheetMenu(), b.routeMenu(), b.helpMenu())
	b.window.SetMainMenu(m.main)
}

func quitItem(b *Bench) *fyne.MenuItem {
	q := item("Quit", key(fyne.KeyQ), b.quit)
	q.IsQuit = true
	return q
}

func (b *Bench) editMenu() *fyne.Menu {
	m := &b.menus
	m.undo = item("Undo", key(fyne.KeyZ), b.undo)
	m.redo = item("Redo", key(fyne.KeyZ, fyne.KeyModifierShift), b.redo)
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
		item("Whole sheet", key(fyne.Key0), b.sheet.Fit),
		item("Pixel for pixel", key(fyne.Key0, fyne.KeyModifierShift), b.sheet.OneToOne),
		item("Nearer", key(fyne.KeyEqual), func() { b.sheet.ZoomBy(zoomStep) }),
		item("Farther", key(fyne.KeyMinus), func() { b.sheet.ZoomBy(1 / zoomStep) }),
		item("Grid north up", key(fyne.KeyG), b.gridNorthUp),
		item("Picture upright", key(fyne.KeyG, fyne.KeyModifierShift), func() { b.sheet.RotateTo(0) }),
		item("Find the selected", key(fyne.KeyF), func() { b.findThing(b.selectedID()) }),
		fyne.NewMenuItemSeparator(), m.grid, m.truth,
		item("Fold the ledger", key(fyne.KeyL, fyne.KeyModifierShift), b.foldLedger),
		fyne.NewMenuItemSeparator(), m.auto, m.light, m.dark)
}

// zoomStep is the factor of one step by key.
const zoomStep = 1.5

func (b *Bench) sheetMenu() *fyne.Menu {
	return fyne.NewMenu("Sheet",
		item("Go to Sheet", key(fyne.Key1), func() { b.goTo(postSheet) }),
		fyne.NewMenuItem("Choose the grid…", b.askGrid),
		fyne.NewMenuItem("Keep the point aimed at  (Return)", b.sheetP.keepPoint),
		fyne.NewMenuItem("Use the feature aimed at as proof", b.sheetP.holdProof),
		fyne.NewMenuItem("Remove the chosen control point", b.removePoint),
	)
}

func (b *Bench) routeMenu() *fyne.Menu {
	return fyne.NewMenu("Route",
		item("Go to Route", key(fyne.Key2), func() { b.goTo(postRoute) }),
		fyne.NewMenuItem("Keep as leg  (L)", b.keepLeg),
		fyne.NewMenuItem("Keep as sight  (S)", b.keepSight),
		fyne.NewMenuItem("Let go  (Esc)", b.letGo),
		fyne.NewMenuItemSeparator(),
		item("Mark at a reference…", key(fyne.KeyM), b.askMark),
		fyne.NewMenuItem("Typed leg", func() { b.goTo(postRoute); b.routeP.showSection(sectionLeg); b.window.Canvas().Focus(b.routeP.bearing) }),
		fyne.NewMenuItem("Turn the selected leg round", func() { b.try(b.s.ReverseLeg(b.selectedID()), "") }),
		item("Selected leg earlier", key(fyne.KeyUp), func() { b.moveRow(string(b.selectedID()), -1) }),
		item("Selected leg later", key(fyne.KeyDown), func() { b.moveRow(string(b.selectedID()), 1) }),
		item("Go to the ledger", key(fyne.KeyL), func() { b.window.Canvas().Focus(b.ledger) }),
		item("Go to the sheet", key(fyne.KeyJ), b.focusSheet),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Marks", func() { b.goTo(postRoute); b.routeP.showSection(sectionMarks) }),
		fyne.NewMenuItem("Sights", func() { b.goTo(postRoute); b.routeP.showSection(sectionSights) }),
		fyne.NewMenuItem("Outing: title and date", func() { b.goTo(postRoute); b.routeP.showSection(sectionOuting) }),
		fyne.NewMenuItem("Party and compass…", b.askParty))
}

func (b *Bench) helpMenu() *fyne.Menu {
	return fyne.NewMenu("Help",
		item("Before you walk: cautions", key(fyne.KeyH), b.showCautions),
		fyne.NewMenuItem("Keys…", b.showKeys),
		fyne.NewMenuItem("Welcome", b.showWelcome),
		fyne.NewMenuItem("Sources and licences…", b.showNotices),
		fyne.NewMenuItem("About…", b.showAbout))
}

// refreshMenus brings the entries that change up to date.
func (b *Bench) refreshMenus() {
	m := &b.menus
	if m.main == nil {
		return
	}
	m.undo.Label, m.undo.Disabled = named("Undo", b.s.UndoName()), b.s.UndoName() == ""
	m.redo.Label, m.redo.Disabled = named("Redo", b.s.RedoName()), b.s.RedoName() == ""
	m.grid.Checked, m.truth.Checked = m.showGrid, b.dial.ShowsTrue()
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
