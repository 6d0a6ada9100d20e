package routepanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/thinglist"
	"legwright/app/ui/widgets"
)

func (p *Panel) newTracks() listed {
	imports := container.NewVBox()
	l := thinglist.New(p.n.Session, p.n.Foot, "No tracks yet. Import a GPX file that contains tracks.", imports)
	return listed{l, func() {
		var all []thinglist.Thing
		for _, t := range p.n.Session.Plan().Tracks {
			all = append(all, thinglist.Thing{ID: t.ID, Name: trackName(t), Note: func() string { return trackNote(t) }})
		}
		imports.RemoveAll()
		for _, m := range p.n.Session.Plan().Imports() {
			imports.Add(importRow(p.n, m))
		}
		l.Set(all)
	}}
}

func trackName(t plan.Track) string {
	if t.Name == "" {
		return "track without a name"
	}
	return t.Name
}

// trackNote says how much of a track there is, and that it is hidden.
func trackNote(t plan.Track) string {
	text := count(len(t.Points), "point")
	if t.Hidden {
		text = "hidden, " + text
	}
	return text
}

// hideButton hides a track on the sheet, or shows it again.
func hideButton(n *Needs, t plan.Track) fyne.CanvasObject {
	text, hint, done := "Hide", "Hide the track on the sheet", "Track hidden."
	if t.Hidden {
		text, hint, done = "Show", "Show the track on the sheet again", "Track shown."
	}
	return container.NewHBox(button(n, "", text, hint, func() {
		n.Foot.Try(n.Session.SetHidden(t.ID, !t.Hidden), done)
	}))
}

// importRow names an import with what came with it, and deletes all of that.
func importRow(n *Needs, m plan.Import) fyne.CanvasObject {
	words := widgets.NewWrappedQuiet(fmt.Sprintf("Imported from %s: %s.", m.Name, importWords(m)))
	return container.NewBorder(nil, nil, nil, button(n, look.IconDelete, "Delete import", "Delete everything imported from this file", func() {
		n.Foot.Try(n.Session.RemoveImport(m.Name), "Import deleted. Undo restores it.")
	}), words)
}

// importWords counts what is left of an import, kind by kind.
func importWords(m plan.Import) string {
	text := ""
	for _, k := range plan.Kinds() {
		n := 0
		for _, t := range m.Things {
			if t.Kind == k.Kind {
				n++
			}
		}
		if n == 0 {
			continue
		}
		if text != "" {
			text += ", "
		}
		if n == 1 {
			text += "1 " + k.One
		} else {
			text += fmt.Sprintf("%d %s", n, k.Many)
		}
	}
	return text
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
