// Package ui is the bench: the main window, its menus and keys, and the wiring of the
// rooms that stand in it. It lays the window out, brings panels to the front, and joins
// the rooms to each other through small hosts. What a person does is the rooms' own, in
// the packages below; what it means is app/session's.
//
// Everything here belongs to Fyne's main thread. What takes time runs beside the window
// and comes back through fyne.Do. Nothing on the main thread calls fyne.DoAndWait: it
// would wait for itself.
//
// End the program by Bench.finish alone: a second request to close, such as another
// Alt+F4, takes back what the first one did.
//
// # Rooms
//
// A room of the window is made by New with what it needs (session, foot line, dialogs,
// the rooms below it) and at most one Host interface of four methods that this package
// meets. It listens to the session itself: session.Change says which parts changed, one
// act is one notification, and a room repaints once for it. While something is dragged
// or nudged (Change.Passing) only dial, foot line and overlay follow.
// TestTypesOfTheWindowStaySmall bounds every type to 30 methods and 15 fields. Tests of
// rooms stand outside the package and drive a window by package uitest: click, type,
// drop; then they ask the session. So do the tests of this package, which drive all of the
// window by package benchtest. Two test files stay inside, on functions whose results no
// window shows: the zone of the computer, and the room that the collector is given.
//
// # A new panel
//
// A panel is a room NAMEpanel with New and Body, as sheetpanel is. It adds to the
// drawing by sheetview.View.AddLayer. Besides the room: panel.go (a constant and an
// entry: title, hint, icon, key, a head that does not scroll or none, the dial or nothing
// above it, the tool it makes of the map), cmd/dev/arrows_test.go (its arrows, its position
// among the rooms of the window), the drawing of the house in DEVELOPERS.md. Menu,
// shortcut, list of panels and layout follow from the entry. A panel that scrolls to a
// part of itself takes panelFrame.reveal.
//
// # A new figure of a line
//
// It must vanish while a group estimates. The room that writes it has Conceal(bool),
// named in conceal.go; TestHiddenFiguresTellNothing compares the window on two grounds
// pixel for pixel, and needs a step that brings the figure on the screen.
//
// # Lessons
//
// This package alone holds the teach.Lesson, for the panel Teach and for the window of
// the group. Whoever shows it listens by OnChange. What a lesson declares reaches the
// screen by sheetview.Tool.Shown and nothing else: no plan, ledger or GPX. What a hand
// does at a step of the compass, right or wrong, is teach.Stepping alone: baseplate draws
// its posture, compassview shows that beside the sheet and the board of projector to the
// group, lessondraw draws where a slip leads.
package ui
