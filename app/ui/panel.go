package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
)

// panelID is a panel by its place in the list of panels.
type panelID int

// The panels, in the order of the list.
const (
	panelSheet panelID = iota
	panelRoute
	panelEscape
	panelTeach
)

// panelEntry is one panel: all that the window must know of it.
type panelEntry struct {
	title, hint string
	key         fyne.KeyName          // goes there, with Ctrl
	head        fyne.CanvasObject     // stands above all else and does not scroll; may be nil
	top, lower  fyne.CanvasObject     // top is the dial, or nil
	instead     fyne.CanvasObject     // stands in the dial's place while it is visible; may be nil
	turns       func() bool           // lower has more to say than the dial, which gives way; it is turned all the time; may be nil
	tool        func() sheetview.Tool // what it makes of the map
	show        func(on bool)         // tells the panel that it came to the front, or went; may be nil
}

// panels are the panels of the window. One more panel is one more entry.
func (b *Bench) panels() []panelEntry {
	return []panelEntry{
		{
			title: "Sheet", hint: "Open a picture and calibrate it", key: fyne.Key1,
			lower: b.sheetP.Body(), show: b.sheetP.Show, tool: b.sheetP.Tool,
		},
		{
			title: "Route", hint: "Drag bearings, keep legs and sights", key: fyne.Key2,
			top: b.frame.dial, lower: b.route.Body(), show: b.route.Show,
			tool: func() sheetview.Tool {
				if b.frame.panel.moving {
					return sheetview.Tool{Kind: tool.Move}
				}
				return sheetview.Tool{Kind: tool.Sight}
			},
		},
		{
			title: "Escape", hint: "Draw hazards, havens, lines and ground, and plan escapes", key: fyne.Key3,
			lower: b.escapeP.Body(), show: b.escapeP.Show, tool: b.escapeP.Tool,
		},
		{
			title: "Teach", hint: "Show a group what a bearing means", key: fyne.Key4,
			head: b.teach.panel.Head(), top: b.frame.dial, turns: b.teach.panel.Turns, lower: b.teach.panel.Body(), show: b.teach.panel.Show, tool: b.teach.panel.Tool,
			instead: b.teach.panel.Words(),
		},
	}
}
