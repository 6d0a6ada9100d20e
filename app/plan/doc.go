// Package plan is the document of the bench: the sheet with its control
// points, the marks, the legs in route order, the sights, the party and the
// date of the outing. Values are immutable: every edit is a method of *Plan
// that returns a new *Plan and leaves the old one as it was, so that undo is a
// list of plans and a plan may be read from any goroutine.
//
// It holds positions, not readings: bearings and distances are the work of
// app/leg. It knows nothing of files or JSON: mapio/planfile writes it. It is
// not a store of people: names of a party, phones and medical notes have no
// place in it.
//
// # Positions
//
// A position has grid coordinates in metres on the grid named by its
// code, and an origin. A picked position also keeps its column and row on the
// sheet, so that it moves with its feature when the sheet is recalibrated.
// Typed and imported positions stay where they are.
//
// # Things
//
// A thing is whatever lies on the ground, has an ID and can be selected, named, moved
// and removed: marks, legs, sights, hazards, escapes and so on. The function lists names the list of each
// kind, and everything that is done alike for all kinds walks over it. An end of a leg
// or sight that stands on no mark has a letter, given when it is added and kept as long
// as the end is there.
//
// # Sheets
//
// A plan may have several sheets, such as the panels of a folded map, each with
// its own calibration and evidence, all on one grid. A sheet may be checked by a
// feature on another one, and is unchecked again when that one is.
//
// # A new kind of thing
//
// Here: its row in lists, its list and Kind in plan.go, and a file of its own with the
// type, its parts, what is bad about it and, where it has a list, unshare; points that come
// and go are the vertices of its parts. Then
// mapio/planfile/planshape.go (its key, how it is written and read, a limit for each list
// inside it), codec.go if each is written on a line of its own, and a file with its shape; app/session, a file with its aspect and the
// intention that adds it; canvas/overlay/scene.go (its list in Scene, its row in
// thingKinds), canvas/overlay/style.go (its inks) and a file with how it is built, drawn,
// named and pointed at; in the window the act that draws it, a sheetview.Tool with Click
// and Accept, and its entry in the menu. On paper: mapio/card/ground.go, and in mapio/paper
// cutthings.go, cutdraw.go with its ink in cutink.go, and its row of the key in cutfoot.go.
//
// Counting, validating, snapping, moving with a recalibrated sheet, IDs, undo, selecting,
// renaming, dragging its points, deleting, grids and sheets used follow from lists. The
// tests TestEveryKind… of mapio/planfile find the new list by themselves and fail while
// something is left out; TestOneActOneNotification of app/session asks for the intention.
package plan
