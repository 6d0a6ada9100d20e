// Package escapepanel is the Escape panel: the hazards, havens, lines and areas of ground,
// which are drawn here, the marks that the leader would recognise in cloud, and the ways
// off from them. It shows one section at a time; each lists its things and has the fields
// of the selected one.
//
// A shape is drawn click by click by the drawer, which takes the sheet's clicks and keys
// while it is at work. While it is not, dragging moves points of shapes, and a double
// click on a line adds one.
//
// # A new section
//
// A constant in panel.go, its entry in Panel.list, and a type with what section asks for.
package escapepanel
