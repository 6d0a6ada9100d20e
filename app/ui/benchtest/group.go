package benchtest

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/ui/projector"
	"legwright/app/ui/uitest"
	"legwright/canvas/mapview"
)

// Group is the window for the group.
type Group struct {
	*uitest.Window
	b *Bench
}

// Group is the window for the group, nil while it is closed.
func (b *Bench) Group() *Group {
	for _, w := range b.App.Windows {
		if strings.HasSuffix(w.Title(), ", for the group") && slices.Contains(fyne.CurrentApp().Driver().AllWindows(), w.Window) {
			return &Group{w, b}
		}
	}
	return nil
}

// Sheet is the sheet in the window.
func (g *Group) Sheet() *mapview.MapView { return uitest.All[*mapview.MapView](g.Window)[0] }

// Reads is what stands on the board beside the sheet.
func (g *Group) Reads() string {
	g.b.t.Helper()
	board := uitest.All[*projector.Board](g.Window)[0]
	g.b.Until("the board", board.Settled)
	g.Canvas().Capture()
	var all []string
	for _, w := range board.Written() {
		all = append(all, w.Text)
	}
	return strings.Join(all, " ")
}
