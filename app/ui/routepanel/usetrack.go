package routepanel

import (
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// useButton makes a hazard, a haven or a line of a track.
func useButton(n *Needs, t plan.Track) fyne.CanvasObject {
	return container.NewHBox(button(n, "", "Use as…", "Make a hazard, a haven or a line of it for the Escape panel", func() { askUse(n, t) }))
}

// askUse asks what a track was walked along.
func askUse(n *Needs, t plan.Track) {
	all := session.LinesAs()
	words := make([]string, len(all))
	for i, a := range all {
		words[i] = a.String()
	}
	area := n.Ask.Check("it goes around an area", func(bool) {})
	area.Disable()
	var list *widgets.Select
	list = n.Ask.Select(words, func(string) {
		if all[list.SelectedIndex()].Hazard == "" {
			area.SetChecked(false)
			area.Disable()
			return
		}
		area.Enable()
	})
	n.Ask.Form(ask.Form{
		Title: "Use " + trackName(t), Verb: "Use", Size: fyne.NewSize(480, 300),
		Body: container.NewVBox(widgets.NewWrapped("Say what the track was walked along. A track is where somebody walked, not what the ground is like: compare it with the map."), list, area),
		Submit: func() error {
			i := list.SelectedIndex()
			if i < 0 {
				return errors.New("choose what it is")
			}
			return n.Session.UseTrack(t.ID, all[i], area.Checked)
		},
	})
}
