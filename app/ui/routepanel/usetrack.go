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

// useButton makes a hazard, a haven, a line or an area of ground of a track.
func useButton(n *Needs, t plan.Track) fyne.CanvasObject {
	return container.NewHBox(button(n, "", "Use as…", "Turn the track into a hazard, a haven, a line or an area for the Escape panel", func() { askUse(n, t) }))
}

// UseTrack asks what the selected track was walked along.
func (p *Panel) UseTrack() {
	if t, ok := p.n.Session.Plan().TrackByID(p.n.Session.Selection().ID); ok {
		askUse(p.n, t)
	}
}

// askUse asks what a track was walked along.
func askUse(n *Needs, t plan.Track) {
	all := session.TracksAs()
	words := make([]string, len(all))
	for i, a := range all {
		words[i] = a.String()
	}
	area := n.Ask.Check("the track goes round an area", func(bool) {})
	area.Disable()
	var list *widgets.Select
	list = n.Ask.Select(words, func(string) {
		switch as := all[list.SelectedIndex()]; {
		case as.Hazard != "":
			area.Enable()
		default: // ground is always an area, and a haven or a line never
			area.SetChecked(as.Ground != "")
			area.Disable()
		}
	})
	n.Ask.Form(ask.Form{
		Title: "Use " + trackName(t), Verb: "Use", Size: fyne.NewSize(480, 300),
		Body: container.NewVBox(widgets.NewWrapped("Choose what the track follows. A track shows where somebody walked, not what the ground is like: compare it with the map."), list, area),
		Submit: func() error {
			i := list.SelectedIndex()
			if i < 0 {
				return errors.New("choose what the track follows")
			}
			return n.Session.UseTrack(t.ID, all[i], area.Checked)
		},
	})
}
