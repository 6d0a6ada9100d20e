package ui

import (
	"fmt"

	"legwright/app/ui/opening"
)

// Ask puts the desk's question, or takes it away.
func (p *pictures) Ask(q opening.Question) {
	p.asked.Take()
	b, name := p.b, opening.Name(q.Path)
	choose := func(c opening.Choice) func() { return func() { b.desk.Answer(q, opening.Answer{Choice: c}) } }
	agree, decline := choose(opening.Agree), choose(opening.Decline)
	switch q.Kind {
	case opening.NoQuestion:
		return
	case opening.WhichSheet:
		sheet, _ := b.s.Sheet()
		text := fmt.Sprintf("Is %s another sheet of this plan, such as the next panel of a folded map? Marks and legs stay, and a leg may run from one sheet to another.\n\n"+
			"In place of %s it begins without a calibration, and what was picked there keeps its grid coordinates.", name, b.s.Plan().SheetName(sheet.ID))
		p.asked = b.question("Which sheet is it?", text, decline,
			answer{Text: "Do not open", Do: decline},
			answer{Text: "New plan", Do: func() { b.guard(choose(opening.ToNewPlan)) }},
			answer{Text: "In its place", Do: choose(opening.ToPlace)},
			answer{Text: "Another sheet", Do: choose(opening.ToSheet), Default: true})
	case opening.DemoChanged:
		p.asked = b.question("The demo has been changed",
			"A new plan for your map begins without the demo's marks and legs, and your changes to the demo are lost.", decline,
			answer{Text: "Stay with the demo", Do: decline, Default: true},
			answer{Text: "New plan", Do: agree})
	case opening.PlanChanged:
		p.asked = b.question("The plan has been changed",
			fmt.Sprintf("You changed the plan while %s was read. A new plan begins without it, and changes that are not saved are lost.", name), decline,
			answer{Text: "Stay with the plan", Do: decline, Default: true},
			answer{Text: "New plan", Do: agree})
	case opening.OutsideFolder:
		text := fmt.Sprintf("The plan names a picture outside its own folder:\n%s\nOpen it?\n\n"+
			"If somebody sent you the plan and you do not know this file, cancel: the plan opens without its picture.", q.Path)
		p.asked = b.question("A picture outside the plan's folder", text, decline,
			answer{Text: "Cancel", Do: decline, Default: true},
			answer{Text: "Open", Do: func() {
				_ = b.known.Agreed(b.s.Path(), q.Path) // after a failure the bench asks again
				agree()
			}})
	case opening.Missing:
		rest := "The plan is open and complete without it."
		if q.Copy {
			rest = "What is shown is a copy kept from an earlier opening."
		}
		p.asked = b.question("Picture missing", fmt.Sprintf("The plan's picture is not there:\n%s\n\n%s", q.Path, rest), decline,
			answer{Text: "Not now", Do: decline},
			answer{Text: "Find it…", Do: func() { decline(); b.findPicture() }, Default: true})
	case opening.AnotherPicture:
		text := fmt.Sprintf("%s is not the picture that this plan was made on: its content has changed. "+
			"If it is another scan, another crop or another size, every bearing on it would be wrong.\n\n"+
			"Use it anyway? The sheet loses its evidence: look at its control points, then check it again.", name)
		p.asked = b.question("Another picture", text, decline,
			answer{Text: "Cancel", Do: decline, Default: true},
			answer{Text: "Use it anyway", Do: agree})
	case opening.WhichPage:
		p.asked = b.askWhichPage(q)
	}
}

// findPicture lets the person say where the sheet's picture is now.
func (b *Bench) findPicture() {
	if _, ok := b.s.Sheet(); !ok {
		b.say("The plan has no sheet yet: open the picture of a map.")
		return
	}
	b.browse("Find the picture", "Use", opening.Endings(), b.desk.Find)
}

// cancelOpening cancels the opening under way.
func (b *Bench) cancelOpening() {
	if !b.desk.Cancel() {
		b.say("Nothing is being opened.")
	}
}
