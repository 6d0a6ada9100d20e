package routepanel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
)

// AskMark asks for a reference and a name, and sets a mark there.
func (p *Panel) AskMark() {
	n := p.n
	ref, name := n.Ask.Entry("grid reference, or latitude and longitude with °"), n.Ask.Entry("name, or leave empty")
	note := widgets.NewWrappedQuiet("")
	ref.OnChanged = func(text string) { note.SetText(p.read(text)) }
	n.Ask.Form(ask.Form{
		Title: "Mark at a reference", Verb: "Set mark",
		Body: container.NewVBox(ref, name, note), Size: fyne.NewSize(460, 250), Focus: ref,
		Submit: func() error {
			pos, err := n.Session.ParsePosition(ref.Text)
			if err != nil {
				return err
			}
			id, err := n.Session.AddMark(strings.TrimSpace(name.Text), pos)
			if err == nil {
				n.Foot.Say(withNote(n, "Mark set.", id))
			}
			return err
		},
	})
}

// read says how a reference is read while it is typed.
func (p *Panel) read(text string) string {
	if text == "" {
		return ""
	}
	pos, err := p.n.Session.ParsePosition(text)
	if err != nil {
		return foot.Sentence(err)
	}
	words := readAs(p.n, pos)
	if from, _ := p.n.Session.Reader().LettersSource(pos); from != "" {
		words += " Its grid letters come from " + from + "."
	}
	return words
}

// nameEntries offers to name the end under the pointer, in the menu of the sheet.
func (p *Panel) nameEntries(at tool.Spot) []*fyne.MenuItem {
	t := at.Target
	switch {
	case t.Part != tool.Point:
		return nil
	case t.Kind == plan.OfMark:
		return []*fyne.MenuItem{
			fyne.NewMenuItem("Rename this mark…", func() { p.n.Session.Select(t.ID); p.FocusName() }),
			fyne.NewMenuItem("Show what can be seen from here…", func() { p.n.Session.Select(t.ID); p.CanSee() }),
		}
	case t.Kind == plan.OfLeg || t.Kind == plan.OfSight:
		return []*fyne.MenuItem{fyne.NewMenuItem("Name this end…", func() { p.AskName(t.ID, plan.Which(t.Index)) })}
	}
	return nil
}

// AskName asks for the name of an end of a leg or sight, and makes a mark of it.
func (p *Panel) AskName(id plan.ID, which plan.Which) {
	name := p.n.Ask.Entry("name, such as sheepfold")
	p.n.Ask.Form(ask.Form{
		Title: "Name this end", Verb: "Name", Focus: name, Size: fyne.NewSize(400, 190),
		Body: container.NewVBox(name, widgets.NewWrappedQuiet("The end becomes a mark with that name. Legs and sights that meet there will end at the mark too.")),
		Submit: func() error {
			err := p.n.Session.NameEnd(id, which, name.Text)
			if err == nil {
				p.n.Foot.Say(fmt.Sprintf("The %s is now a mark.", map[plan.Which]string{plan.FromEnd: "start", plan.ToEnd: "end"}[which]))
			}
			return err
		},
	})
}
