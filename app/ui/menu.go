package ui

import (
	"path/filepath"
	"runtime"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/routepanel"
)

// menuBar is the main menu. Every act of the bench has an entry in it.
type menuBar struct {
	b          *Bench
	main       *fyne.MainMenu
	undo, redo *fyne.MenuItem
	recent     *fyne.MenuItem
	able       []ability
	marks      []mark
	shown      string // the words that change, as they stand in the bar
}

// ability is an entry that is grey while it cannot act.
type ability struct {
	item *fyne.MenuItem
	can  func() bool
}

// mark is an entry that is ticked while something is on.
type mark struct {
	item *fyne.MenuItem
	on   func() bool
}

// when makes an entry grey while it cannot act. Its shortcut works all the same: the
// act says what is missing.
func (m *menuBar) when(can func() bool, item *fyne.MenuItem) *fyne.MenuItem {
	m.able = append(m.able, ability{item, can})
	return item
}

// tick ticks an entry while something is on.
func (m *menuBar) tick(on func() bool, item *fyne.MenuItem) *fyne.MenuItem {
	m.marks = append(m.marks, mark{item, on})
	return item
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
func (m *menuBar) item(text string, s fyne.KeyboardShortcut, do func()) *fyne.MenuItem {
	i := fyne.NewMenuItem(entryWords(text, s), func() {
		if !m.b.dialogs.Waiting() {
			do()
		}
	})
	i.Shortcut = s
	if runtime.GOOS != "darwin" {
		i.Shortcut = nameless{s}
	}
	return i
}

// nameless is a shortcut that Fyne's menus do not write: they write it so faintly
// that nobody can read it. The entry's own words name it.
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

// keyWord is what is printed on a key.
func keyWord(k fyne.KeyName) string {
	switch k {
	case fyne.KeyPageUp:
		return "Page Up"
	case fyne.KeyPageDown:
		return "Page Down"
	}
	return string(k)
}

// newMenuBar makes the menus.
func newMenuBar(b *Bench) *menuBar {
	m := &menuBar{b: b}
	m.main = fyne.NewMainMenu(m.file(), m.edit(), m.view(), m.picture(), m.sheet(), m.route(), m.escape(), m.teach(), m.help())
	return m
}

func (m *menuBar) file() *fyne.Menu {
	b := m.b
	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	quit := m.item("Quit", key(fyne.KeyQ), b.quit)
	quit.IsQuit = true
	return fyne.NewMenu("File",
		m.item("New plan", key(fyne.KeyN), b.files.Opener.New),
		m.item("Open picture or plan…", key(fyne.KeyO), b.files.Opener.Ask),
		m.recent,
		fyne.NewMenuItem("Open the demo", b.files.Opener.Demo),
		m.item("Open terrain…", key(fyne.KeyO, fyne.KeyModifierShift), b.files.Terrain.Ask),
		m.when(b.files.Terrain.Has, fyne.NewMenuItem("Delete terrain from the plan", b.files.Terrain.Remove)),
		m.when(b.openingPicture, fyne.NewMenuItem("Cancel opening", b.files.Pictures.CancelOpening)),
		fyne.NewMenuItemSeparator(),
		m.item("Save plan", key(fyne.KeyS), func() { b.files.Saver.Save(nil) }),
		m.item("Save plan as…", key(fyne.KeyS, fyne.KeyModifierShift), func() { b.files.Saver.SaveAs(nil) }),
		fyne.NewMenuItem("Restore unsaved work…", b.files.Recovery.Ask),
		fyne.NewMenuItemSeparator(),
		m.when(m.hasThings, m.item("Export…", key(fyne.KeyE), b.files.Exchange.Export)),
		m.when(m.hasThings, fyne.NewMenuItem("Pack plan…", b.files.Packing.Pack)),
		m.when(m.calibrated, fyne.NewMenuItem("Export rectified map…", b.files.Rectify.Export)),
		m.item("Import GPX or GeoJSON…", key(fyne.KeyI), b.files.Exchange.AskImport),
		fyne.NewMenuItemSeparator(),
		m.when(m.hasLegs, m.item("Print papers…", key(fyne.KeyP), b.frame.papers.Show)),
		fyne.NewMenuItemSeparator(),
		quit)
}

func (m *menuBar) edit() *fyne.Menu {
	b := m.b
	m.undo = m.item("Undo", undoKey(), b.undo)
	m.redo = m.item("Redo", redoKey(), b.redo)
	return fyne.NewMenu("Edit",
		m.when(func() bool { return b.s.UndoName() != "" }, m.undo),
		m.when(func() bool { return b.s.RedoName() != "" }, m.redo),
		fyne.NewMenuItemSeparator(),
		m.when(m.hasLegs, fyne.NewMenuItem("Copy ledger", b.files.Exchange.CopyLedger)),
		m.when(m.selected, fyne.NewMenuItem("Delete selection  (Delete)", b.removeSelected)),
		m.when(m.selected, fyne.NewMenuItem("Deselect  (Esc)", func() { b.s.Select("") })))
}

// zoomStep is the factor of one step by key.
const zoomStep = 1.5

func (m *menuBar) view() *fyne.Menu {
	b := m.b
	mode := func(want look.Mode) func() bool { return func() bool { return b.program.set.mode() == want } }
	set := func(want look.Mode) func() { return func() { b.setMode(want) } }
	seen := func(i *fyne.MenuItem) *fyne.MenuItem { return m.when(m.pictureShown, i) }
	var panels []*fyne.MenuItem
	for i, e := range b.frame.panel.entries {
		panels = append(panels, m.item("Go to the "+e.title+" panel", key(e.key), func() { b.goTo(panelID(i)) }))
	}
	return fyne.NewMenu("View", append(append(panels, fyne.NewMenuItemSeparator()),
		seen(m.item("Show whole sheet", key(fyne.Key0), b.view.Area().Fit)),
		seen(m.item("Show at full resolution", key(fyne.Key0, fyne.KeyModifierShift), b.view.Area().OneToOne)),
		seen(m.item("Zoom in", key(fyne.KeyEqual), func() { b.view.Area().ZoomBy(zoomStep) })),
		seen(m.item("Zoom out", key(fyne.KeyMinus), func() { b.view.Area().ZoomBy(1 / zoomStep) })),
		m.when(m.calibrated, m.item("Turn grid north up", key(fyne.KeyG), b.gridNorthUp)),
		seen(m.item("Turn picture upright", key(fyne.KeyG, fyne.KeyModifierShift), func() { b.turnSheet(0) })),
		m.when(m.selected, m.item("Find selection", key(fyne.KeyF), func() { b.route.Find(b.selectedID()) })),
		fyne.NewMenuItemSeparator(),
		m.tick(b.view.ShowsGrid, fyne.NewMenuItem("Show calibrated grid", func() { b.view.ShowGrid(!b.view.ShowsGrid()); b.refreshMenus() })),
		m.tick(b.frame.relief.Steep, m.item("Show steepness", key(fyne.KeyX, fyne.KeyModifierShift), func() { b.frame.relief.ShowSteep(!b.frame.relief.Steep()); b.refreshMenus() })),
		m.tick(b.frame.relief.Contours, m.item("Show contours of the terrain", key(fyne.KeyC, fyne.KeyModifierShift), func() { b.frame.relief.ShowContours(!b.frame.relief.Contours()); b.refreshMenus() })),
		m.tick(b.frame.dial.ShowsTrue, fyne.NewMenuItem("Show true bearing on the dial", b.toggleTrue)),
		m.item("Fold or unfold the ledger", key(fyne.KeyL, fyne.KeyModifierShift), b.ledger.ToggleFold),
		fyne.NewMenuItem("Choose columns of the ledger…", b.ledger.ChooseColumns),
		m.item("Make the ledger taller", key(fyne.KeyPageUp, fyne.KeyModifierShift), func() { b.ledger.Step(1) }),
		m.item("Make the ledger shorter", key(fyne.KeyPageDown, fyne.KeyModifierShift), func() { b.ledger.Step(-1) }),
		fyne.NewMenuItemSeparator(),
		m.tick(mode(look.Follow), fyne.NewMenuItem("Follow the desktop's theme", set(look.Follow))),
		m.tick(mode(look.LightMode), fyne.NewMenuItem("Use the light theme", set(look.LightMode))),
		m.tick(mode(look.DarkMode), fyne.NewMenuItem("Use the dark theme", set(look.DarkMode))))...)
}

// lookStep is one step of contrast or fade by key.
const lookStep = 0.1

// picture holds what concerns the picture and not the plan.
func (m *menuBar) picture() *fyne.Menu {
	b := m.b
	return fyne.NewMenu("Picture",
		m.tick(func() bool { return b.frame.look.body.Visible() }, m.item("Adjust contrast and fade…", key(fyne.KeyK), b.frame.look.toggle)),
		m.item("Increase contrast", key(fyne.KeyPeriod), func() { b.frame.look.step(lookStep, 0) }),
		m.item("Decrease contrast", key(fyne.KeyComma), func() { b.frame.look.step(-lookStep, 0) }),
		m.item("Fade more", key(fyne.KeyPeriod, fyne.KeyModifierShift), func() { b.frame.look.step(0, lookStep) }),
		m.item("Fade less", key(fyne.KeyComma, fyne.KeyModifierShift), func() { b.frame.look.step(0, -lookStep) }),
		m.tick(func() bool { return b.program.set.pictureLook().Invert }, m.item("Darken for night use", key(fyne.KeyK, fyne.KeyModifierShift), b.frame.look.invertLight)),
		m.item("Show as in the file", key(fyne.KeyU, fyne.KeyModifierShift), b.frame.look.plain),
		fyne.NewMenuItemSeparator(),
		m.tick(b.program.set.whole, m.item("Show whole sheet in the corner", key(fyne.KeyW, fyne.KeyModifierShift), b.frame.whole.toggle)),
		m.when(func() bool { return b.Shown().Page != (plan.Page{}) },
			fyne.NewMenuItem("Choose page and resolution…", b.files.Pictures.ChoosePage)),
		m.when(m.hasSheet, fyne.NewMenuItem("Find the picture…", b.files.Pictures.Find)),
		fyne.NewMenuItem("Delete stored pictures…", b.files.Pictures.ClearStore))
}

func (m *menuBar) sheet() *fyne.Menu {
	b := m.b
	several := func() bool { return len(b.s.Plan().Sheets) > 1 }
	panel := b.sheetP
	p, grid, arrow := panel.Points(), panel.Grid(), panel.Arrows()
	arrows := func() bool { s, _ := b.s.Sheet(); return len(s.Points) > 0 }
	return fyne.NewMenu("Sheet",
		fyne.NewMenuItem("Add another sheet…", b.files.Pictures.AddSheet),
		m.when(several, m.item("Next sheet", key(fyne.KeyPageDown), func() { b.files.Pictures.StepSheet(1) })),
		m.when(several, m.item("Previous sheet", key(fyne.KeyPageUp), func() { b.files.Pictures.StepSheet(-1) })),
		m.when(m.hasSheet, fyne.NewMenuItem("Delete sheet from the plan", b.files.Pictures.RemoveShown)),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Choose grid…", panel.ChooseGrid),
		m.when(m.hasSheet, fyne.NewMenuItem("Set contour interval…", func() { b.frame.relief.AskInterval(nil) })),
		m.when(m.pictureShown, m.item("Find printed grid", key(fyne.KeyR), grid.Find)),
		m.when(grid.Has, fyne.NewMenuItem("Use the grid found", grid.Take)),
		m.when(grid.Waits, fyne.NewMenuItem("Discard the grid found  (Esc)", func() { grid.Discard() })),
		m.when(p.Aiming, fyne.NewMenuItem("Keep control point  (Return)", p.KeepPoint)),
		m.when(p.Aiming, m.item("Use as check", key(fyne.KeyReturn), p.UseAsCheck)),
		m.when(func() bool { return p.Chosen() >= 0 }, fyne.NewMenuItem("Delete control point", func() { p.RemoveChosen() })),
		fyne.NewMenuItemSeparator(),
		m.when(m.calibrated, m.tick(panel.Accuracy().On, m.item("Show accuracy", key(fyne.KeyB), panel.Accuracy().Toggle))),
		m.when(arrows, m.item("Lengthen residual arrows", key(fyne.KeyUp, fyne.KeyModifierShift), func() { arrow.Step(1) })),
		m.when(arrows, m.item("Shorten residual arrows", key(fyne.KeyDown, fyne.KeyModifierShift), func() { arrow.Step(-1) })),
		m.when(arrows, fyne.NewMenuItem("Choose arrow length automatically", arrow.Automatic)))
}

func (m *menuBar) route() *fyne.Menu {
	b := m.b
	offered := func() bool { return b.offered() }
	aLeg := func() bool { return b.s.Selection().Kind == plan.OfLeg }
	aRow := func() bool { return aLeg() || b.anEscape() }
	aTrack := func() bool { return b.s.Selection().Kind == plan.OfTrack }
	section := func(s routepanel.Section) func() { return func() { b.goTo(panelRoute); b.route.ShowSection(s) } }
	return fyne.NewMenu("Route",
		m.when(offered, fyne.NewMenuItem("Keep as leg  (L)", b.view.Offer().KeepLeg)),
		m.when(offered, fyne.NewMenuItem("Keep as sight  (S)", b.view.Offer().KeepSight)),
		m.when(offered, fyne.NewMenuItem("Discard reading  (Esc)", b.view.Discard)),
		fyne.NewMenuItemSeparator(),
		m.item("Set mark at a reference…", key(fyne.KeyM), b.route.AskMark),
		fyne.NewMenuItem("Add a leg by bearing and distance", b.route.ShowTyped),
		m.tick(func() bool { return b.frame.panel.moving }, m.item("Move marks and ends by dragging", key(fyne.KeyT), b.toggleMoving)),
		m.when(aLeg, fyne.NewMenuItem("Reverse leg", func() { b.foot.Try(b.s.ReverseLeg(b.selectedID()), "") })),
		m.when(aRow, m.item("Move up in the ledger", key(fyne.KeyUp), func() { b.ledger.MoveRow(-1) })),
		m.when(aRow, m.item("Move down in the ledger", key(fyne.KeyDown), func() { b.ledger.MoveRow(1) })),
		m.item("Go to the ledger", key(fyne.KeyL), b.ledger.Focus),
		m.item("Go to the sheet", key(fyne.KeyJ), b.view.Focus),
		m.when(m.aMark, fyne.NewMenuItem("Show what can be seen from the mark…", b.route.CanSee)),
		m.when(aTrack, fyne.NewMenuItem("Use the track as…", b.route.UseTrack)),
		m.item("Step through the profile", key(fyne.KeyF, fyne.KeyModifierShift), b.route.WalkProfile),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("List marks", section(routepanel.Marks)),
		fyne.NewMenuItem("List sights", section(routepanel.Sights)),
		fyne.NewMenuItem("List tracks", section(routepanel.Tracks)),
		fyne.NewMenuItem("Edit title and date", section(routepanel.Plan)),
		fyne.NewMenuItem("Describe party and compass…", b.route.AskParty),
		m.item("Set start time of the route", key(fyne.KeyT, fyne.KeyModifierShift), b.route.FocusStart),
		fyne.NewMenuItem("Choose walking time…", b.route.AskTiming))
}

func (m *menuBar) help() *fyne.Menu {
	b := m.b
	return fyne.NewMenu("Help",
		m.item("Read the cautions before you walk", key(fyne.KeyH), b.frame.help.cautions),
		fyne.NewMenuItem("Show keys…", b.frame.help.keys),
		fyne.NewMenuItem("Show the welcome card", b.frame.welcome.show),
		m.item("Show diagnostics…", key(fyne.KeyD, fyne.KeyModifierShift), b.frame.help.diagnostics),
		fyne.NewMenuItem("Show what is new…", b.frame.help.changes),
		fyne.NewMenuItem("Show sources and licences…", b.frame.help.notices),
		fyne.NewMenuItem("About Legwright…", b.frame.help.about))
}

// hasThings reports whether the plan holds anything that can be exported.
func (m *menuBar) hasThings() bool { return !m.b.s.Plan().Empty() }

func (m *menuBar) hasLegs() bool { return len(m.b.s.Plan().Legs) > 0 }

func (m *menuBar) hasSheet() bool { _, ok := m.b.s.Sheet(); return ok }

func (m *menuBar) pictureShown() bool { return m.b.desk.Pyramid() != nil }

func (m *menuBar) calibrated() bool { _, err := m.b.s.Calibration(); return err == nil }

func (m *menuBar) selected() bool { return m.b.selectedID() != "" }

// refresh brings the entries that change up to date. The menus read them when they
// open, except for words, which need the bar built again: that takes some time, so it
// happens only when words changed.
func (m *menuBar) refresh() {
	b := m.b
	m.undo.Label = entryWords(named("Undo", b.s.UndoName()), undoKey())
	m.redo.Label = entryWords(named("Redo", b.s.RedoName()), redoKey())
	for _, a := range m.able {
		a.item.Disabled = !a.can()
	}
	for _, k := range m.marks {
		k.item.Checked = k.on()
	}
	m.recent.ChildMenu.Items = nil
	words := m.undo.Label + m.redo.Label
	for _, path := range b.files.Settings.Recent() {
		words += path
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items,
			fyne.NewMenuItem(filepath.Base(path), func() { b.files.Opener.Open(path) }))
	}
	m.recent.Disabled = len(m.recent.ChildMenu.Items) == 0
	if words != m.shown {
		m.shown = words
		m.main.Refresh()
	}
}

// refreshMenus brings the menus up to date.
func (b *Bench) refreshMenus() {
	if b.frame.menus != nil {
		b.frame.menus.refresh()
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
