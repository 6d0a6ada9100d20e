package files

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
)

// Pictures puts the questions of the desk that opens pictures, says what came of an
// opening, and leads from one sheet of the plan to another.
type Pictures struct {
	Needs
	saver    *Saver
	pages    *opening.Pages // draws pages for the page dialog
	question *ask.Question  // of the desk
}

func newPictures(n Needs, saver *Saver) *Pictures {
	return &Pictures{Needs: n, saver: saver, pages: opening.NewPages(n.Desk.Source(), n.Later)}
}

// Ask puts the desk's question in place of the one before, or takes that away.
func (p *Pictures) Ask(q opening.Question) {
	p.question.Take()
	p.question = nil
	if q.Kind == opening.WhichPage {
		p.question = p.askPage(q)
		return
	}
	choose := func(c opening.Choice) func() { return func() { p.Desk.Answer(q, opening.Answer{Choice: c}) } }
	agree, decline := choose(opening.Agree), choose(opening.Decline)
	name := opening.Name(q.Path)
	switch q.Kind {
	case opening.WhichSheet:
		p.question = p.askSheet(name, choose)
	case opening.DemoChanged:
		p.question = p.askDemo(q.Path, agree, decline)
	case opening.PlanChanged:
		p.question = p.Dialogs.Warn("You have changed the plan",
			fmt.Sprintf("You changed the plan while %s was being read. A new plan begins without those changes, and unsaved work is lost.", name), "Start a new plan", agree, decline)
	case opening.OutsideFolder:
		text := fmt.Sprintf("The plan names a picture outside its own folder:\n%s\n\n"+
			"If somebody sent you the plan and you do not know this file, cancel: the plan opens without its picture.", q.Path)
		p.question = p.Dialogs.Warn("A picture outside the plan's folder", text, "Open", func() {
			_ = p.Known.Agreed(p.Session.Path(), q.Path) // after a failure the bench asks again
			agree()
		}, decline)
	case opening.Missing:
		p.question = p.askMissing(q, decline)
	case opening.AnotherPicture:
		text := fmt.Sprintf("%s is not the picture that this plan was made on: its content is different. "+
			"If it is another scan, another crop or another size, every bearing on it would be wrong.\n\n"+
			"If you use it anyway, the sheet loses its checks: look at its control points, then check it again.", name)
		p.question = p.Dialogs.Warn("Another picture", text, "Use anyway", agree, decline)
	}
}

// askDemo asks about the changes to the demo. Those to a plan that was saved from it can be saved too.
func (p *Pictures) askDemo(path string, agree, decline func()) *ask.Question {
	if p.Session.Path() == "" {
		return p.Dialogs.Warn("You have changed the demo",
			"A new plan for your map begins without the demo's marks and legs, and your changes to the demo are lost.", "Start a new plan", agree, decline)
	}
	return p.Dialogs.Question("There is unsaved work",
		"A new plan for your map begins without the marks and legs of this one, which lie on the demo's ground. This plan has unsaved changes.", decline,
		ask.Answer{Text: "Cancel", Do: decline},
		ask.Answer{Text: "Discard", Do: agree},
		ask.Answer{Text: "Save", Do: func() { decline(); p.saver.Save(func() { p.Desk.Open(path) }) }, Default: true})
}

// askSheet asks what a picture is to become.
func (p *Pictures) askSheet(name string, choose func(opening.Choice) func()) *ask.Question {
	sheet, _ := p.Session.Sheet()
	text := fmt.Sprintf("Is %s another sheet of this plan, such as the next panel of a folded map? Marks and legs stay, and a leg may run from one sheet to another.\n\n"+
		"If it replaces %s, you will have to calibrate the new picture. Marks and legs already made keep their grid references.", name, p.Session.Plan().SheetName(sheet.ID))
	decline := choose(opening.Decline)
	return p.Dialogs.Question("Which sheet is it?", text, decline,
		ask.Answer{Text: "Cancel", Do: decline},
		ask.Answer{Text: "Start a new plan", Do: func() { p.saver.Guard(choose(opening.ToNewPlan)) }},
		ask.Answer{Text: "Replace the sheet", Do: choose(opening.ToReplace)},
		ask.Answer{Text: "Add as another sheet", Do: choose(opening.ToSheet), Default: true})
}

// askMissing offers to find a picture that is not where the plan says.
func (p *Pictures) askMissing(q opening.Question, decline func()) *ask.Question {
	rest := "The plan is open with all its marks and legs, but the sheet has no picture."
	if q.Copy {
		rest = "What you see is a copy that was kept when the picture was last opened."
	}
	return p.Dialogs.Question("Picture missing", fmt.Sprintf("The plan's picture is no longer there:\n%s\n\n%s", q.Path, rest), decline,
		ask.Answer{Text: "Not now", Do: decline},
		ask.Answer{Text: "Find it…", Do: func() { decline(); p.Find() }, Default: true})
}

// Tell says what came of an opening. It reports whether a dialog waits: then no further
// dropped file is opened.
func (p *Pictures) Tell(r opening.Report) (asks bool) {
	switch r.Reason {
	case opening.Opened:
		p.opened(r)
	case opening.Cancelled:
		p.cancelledPicture(r)
	case opening.NotOpened:
		p.notOpened(r)
	case opening.Refused:
		title := "This picture cannot be opened"
		if r.Use == opening.Own {
			title = "The plan's picture cannot be opened"
		}
		if r.Back {
			r.Err = fmt.Errorf("%w. %s", r.Err, planBack)
		}
		p.refuseWith(title, r.Path, r.Err, r.Rest)
	case opening.Removed:
		p.refuseWith("This picture cannot be used any longer", r.Path,
			fmt.Errorf("%w. The plan stays open without the picture; the calibration and the legs are kept. %s", r.Err, howToFind), r.Rest)
	case opening.CopyShown:
		p.Foot.Fail(fmt.Errorf("the file cannot be read now, so an earlier copy is shown: %w", r.Err))
	case opening.Withheld:
		p.Foot.Say(openWithout)
	case opening.Stopped:
		p.Foot.Say(fmt.Sprintf("%s %s not opened. Drop again what you still want to open.", p.Foot.Message(), namesOf(r.Rest.Waiting)))
	case opening.StoreFault:
		p.Foot.Fail(r.Err)
	case opening.FileChanged:
		p.Foot.Fail(fmt.Errorf("saved, but %w", r.Err))
	}
	return p.Dialogs.Waiting()
}

// Sentences about a plan after an opening that came to nothing.
const (
	howToFind   = "To choose its picture: Picture → Find the picture…"
	openWithout = "The plan is open without its picture. " + howToFind
	howToOpen   = "To open it after all, drop it on the window or press Ctrl+O."
	planBack    = "The previous plan is open again."
)

// cancelledPicture says that the person cancelled an opening, and what is open now.
func (p *Pictures) cancelledPicture(r opening.Report) {
	words := []string{"Cancelled: " + opening.Name(r.Path) + " was not opened."}
	switch {
	case r.Back:
		words = append(words, planBack)
	case r.Bare:
		words = append(words, openWithout)
	default:
		words = append(words, howToOpen)
	}
	if rest := restWords(r.Rest); rest != "" {
		words = append(words, rest)
	}
	p.Foot.Say(strings.Join(words, " "))
}

// opened says that a picture was opened as a whole, and hands on what its file says.
func (p *Pictures) opened(r opening.Report) {
	if r.Use != opening.Own { // else the act that led to it has said something, such as how to get a sheet back
		p.Foot.Say(OpenedWords(r.Picture))
	}
	if r.First && len(r.File.Notes) > 0 {
		p.Dialogs.Tell("About the picture", foot.SentenceOf(strings.Join(r.File.Notes, "; ")))
	}
	p.Host.PictureOpened(r)
	if left := restWords(opening.Batch{Left: r.Rest.Left, Terrain: r.Rest.Terrain}); left != "" {
		p.Foot.Say(p.Foot.Message() + " " + left)
		p.Dialogs.Tell("Some files were not opened", restWords(r.Rest))
	}
}

// OpenedWords name a picture that was opened, and its size.
func OpenedWords(p *opening.Picture) string {
	page := ""
	switch {
	case p.Page == (plan.Page{}):
	case p.Page.DPI == 0:
		page = fmt.Sprintf(", page %d of %d", p.Page.Number, p.Header.Pages)
	default:
		page = fmt.Sprintf(", page %d of %d at %.0f pixels per inch", p.Page.Number, p.Header.Pages, p.Page.DPI)
	}
	return fmt.Sprintf("Opened %s%s, %d × %d pixels.", p.Name(), page, p.Header.Width, p.Header.Height)
}

// notOpened says that the person decided against a picture.
func (p *Pictures) notOpened(r opening.Report) {
	_, wants := p.Session.Sheet()
	switch {
	case r.Rest.Several():
		p.Foot.Say(namesOf(slices.Concat(r.Rest.Waiting, r.Rest.Left, r.Rest.Terrain)) + " not opened.")
	case wants && p.Desk.Pyramid() == nil:
		p.Foot.Say(openWithout)
	case wants:
		p.Foot.Say(opening.Name(r.Path) + " was not opened; the plan is unchanged.")
	}
}

// CancelOpening cancels the opening of a picture.
func (p *Pictures) CancelOpening() {
	if !p.Desk.Cancel() {
		p.Foot.Say("Nothing is being opened.")
	}
}

// Find asks where the picture of the sheet is now.
func (p *Pictures) Find() {
	if _, ok := p.Session.Sheet(); !ok {
		p.Foot.Fail(errors.New("the plan has no sheet yet: open the picture of a map first"))
		return
	}
	p.pick("Find the picture", "Use", p.Desk.Find)
}

// AddSheet asks for a picture that becomes another sheet of the plan.
func (p *Pictures) AddSheet() { p.pick("Add another sheet", "Add", p.Desk.Add) }

// pick asks for a picture.
func (p *Pictures) pick(title, verb string, then func(path string)) {
	p.Dialogs.OpenPath(ask.Path{Title: title, Verb: verb, Start: p.saver.suggest(""), Endings: opening.Endings(), Done: then})
}

// ChoosePage asks for another page of the document on the sheet, or another resolution.
func (p *Pictures) ChoosePage() {
	if !p.Desk.AskPage() {
		p.Foot.Fail(errors.New("the sheet is a single picture: only PDF documents, and TIFF and KML files with several pictures, have pages to choose"))
	}
}

// ShowSheet shows another sheet of the plan.
func (p *Pictures) ShowSheet(id plan.ID) {
	if now, _ := p.Session.Sheet(); now.ID != id {
		p.Foot.Try(p.Session.ShowSheet(id), "Sheet: "+p.Session.Plan().SheetName(id)+".")
	}
}

// StepSheet shows the sheet so many places further in the list; after the last comes
// the first.
func (p *Pictures) StepSheet(by int) {
	sheets := p.Session.Plan().Sheets
	if len(sheets) < 2 {
		p.Foot.Fail(errors.New("the plan has no other sheet. To add one: Sheet → Add another sheet…"))
		return
	}
	now, _ := p.Session.Sheet()
	i := slices.IndexFunc(sheets, func(s plan.Sheet) bool { return s.ID == now.ID })
	p.ShowSheet(sheets[(i+by+len(sheets))%len(sheets)].ID)
}

// RemoveShown removes the sheet that is shown from the plan.
func (p *Pictures) RemoveShown() {
	sheet, ok := p.Session.Sheet()
	if !ok {
		p.Foot.Fail(errors.New("the plan has no sheet to delete"))
		return
	}
	p.RemoveSheet(sheet.ID)
}

// RemoveSheet removes a sheet from the plan.
func (p *Pictures) RemoveSheet(id plan.ID) {
	name := p.Session.Plan().SheetName(id)
	p.Foot.Try(p.Session.RemoveSheet(id), name+" was deleted from the plan. Undo restores it, with its calibration.")
}
