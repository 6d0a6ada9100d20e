package papers

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	"legwright/mapio/card"
	"legwright/mapio/openfile"
)

// home is what a base sheet says beside the plan, as it was typed. It is kept until another plan
// is opened, and written nowhere but on that sheet unless the person asks for it: into a file of its
// own choice, or into the one that the room keeps.
type home struct {
	people   card.People
	due, act string // times; "" for the usual ones
}

var errNobody = errors.New("name the party and type the emergency number: the base sheet cannot be made without them")

// of is what stands on the sheet; nobody for a nil home.
func (h *home) of(c *card.Content) (*card.Home, error) {
	if h == nil {
		return nil, errNobody
	}
	return c.Home(h.people, h.due, h.act)
}

// peopleForm are the fields of the dialog for people.
type peopleForm struct {
	r        *Room
	due, act *widgets.EscapeEntry
	party    []*widgets.EscapeEntry   // as partyLines
	persons  [][]*widgets.EscapeEntry // as personLines
	list     *fyne.Container          // of the persons
	keep     *widgets.Check           // the people on this computer
	scroll   *container.Scroll
}

// line is a field of the form: its label, a hint, and the text that is typed there.
type line[T any] struct {
	label, hint string
	of          func(*T) *string
}

var partyLines = []line[card.People]{
	{"Emergency", "the number to ring in the country where you walk", func(p *card.People) *string { return &p.Emergency }},
	{"Ask for", "whom to ask for on that number", func(p *card.People) *string { return &p.AskFor }},
	{"Experience", "how experienced the party is", func(p *card.People) *string { return &p.Experience }},
	{"Shelters", "colours of tents, group shelters and bags", func(p *card.People) *string { return &p.Shelter }},
	{"Vehicle", "make, colour, number plate", func(p *card.People) *string { return &p.Vehicle }},
	{"Parked at", "where the vehicle is left", func(p *card.People) *string { return &p.VehicleAt }},
}

var personLines = []line[card.Person]{
	{"Name", "name", func(p *card.Person) *string { return &p.Name }},
	{"Telephone", "telephone number", func(p *card.Person) *string { return &p.Phone }},
	{"Switched on", "when the phone is switched on", func(p *card.Person) *string { return &p.PhoneOn }},
	{"Clothing", "colours of jacket and rucksack", func(p *card.Person) *string { return &p.Clothing }},
	{"Medical", "what a rescuer should know, if the person agrees", func(p *card.Person) *string { return &p.Medical }},
}

// askPeople asks for the party.
func (p *preview) askPeople() {
	r := p.r
	d := r.n.Dialogs
	f := &peopleForm{r: r, due: d.Entry("such as 17:30 (if empty: when the route ends)"), act: d.Entry("such as 19:30 (if empty: 2 hours after due back)"), list: container.NewVBox()}
	f.keep = d.Check("Keep these details on this computer", nil)
	f.keep.SetChecked(r.keeps())
	f.keep.OnChanged = f.kept
	f.keep.Hidden = r.n.Kept == ""
	f.keep.OnFocus = func() { widgets.Reveal(f.scroll, f.keep) }
	for _, e := range []*widgets.EscapeEntry{f.due, f.act} {
		e.OnFocus = func() { widgets.Reveal(f.scroll, e) }
	}
	rows := container.NewVBox(widgets.NewWrapped("These details are printed only on the base sheet. They are kept until you open another plan, and written to a file only if you save them to one or tick the box."), f.keep,
		f.labelled("Due back", f.due), f.labelled("Act at", f.act))
	f.party = fields(f, rows, partyLines)
	rows.Add(f.list)
	add := widgets.NewTextTool("", "Add a person", "Add another person", func() { f.more(rows) })
	read := widgets.NewTextTool("", "Read from a file…", "Read the party from a file", f.askRead)
	save := widgets.NewTextTool("", "Save to a file…", "Save the party to a file of your own", f.askSave)
	for _, t := range []*widgets.Tool{add, read, save} {
		t.OnFocus = func() { widgets.Reveal(f.scroll, t) }
	}
	rows.Add(container.NewHBox(add, read, save))
	h := r.home
	if h == nil {
		h = &home{}
	}
	f.fill(h)
	if r.home == nil && r.keeps() {
		f.readFile(r.n.Kept)
	}
	f.scroll = container.NewVScroll(container.New(&widgets.Pad{Right: 14}, rows))
	d.Form(ask.Form{
		Title: "The party", Verb: "Use", Size: fyne.NewSize(640, 720), Focus: f.party[0], Submit: func() error {
			h, err := f.read()
			if err = cmp.Or(err, card.CheckTime(h.due), card.CheckTime(h.act)); err != nil {
				return err
			}
			if r.home = h; f.keep.Checked {
				f.saveFile(r.n.Kept, h.people, false)
			}
			p.follow()
			return nil
		}, Body: f.scroll,
	})
}

// keeps reports whether the people are kept on this computer.
func (r *Room) keeps() bool {
	_, err := os.Lstat(r.n.Kept)
	return err == nil
}

// kept deletes the file of the people at once when the box is cleared. Use writes it.
func (f *peopleForm) kept(on bool) {
	if on || !f.r.keeps() {
		return
	}
	if err := os.Remove(f.r.n.Kept); err != nil {
		f.r.n.Dialogs.Refuse("The party's personal data was not deleted", err)
		return
	}
	f.r.say("The party's personal data is no longer kept on this computer.")
}

// fields adds lines to a form. Those that gain the focus scroll into view.
func fields[T any](f *peopleForm, to *fyne.Container, lines []line[T]) (out []*widgets.EscapeEntry) {
	for _, l := range lines {
		e := f.r.n.Dialogs.Entry(l.hint)
		e.OnFocus = func() { widgets.Reveal(f.scroll, e) }
		out = append(out, e)
		to.Add(f.labelled(l.label, e))
	}
	return out
}

// labelled is a field behind its label, over which the wheel scrolls the form.
func (f *peopleForm) labelled(text string, field fyne.CanvasObject) fyne.CanvasObject {
	return widgets.NewLabelled(text, widgets.NewWheeled(field, func(e *fyne.ScrollEvent) { f.scroll.Scrolled(e) }))
}

// add adds the fields of a person.
func (f *peopleForm) add() []*widgets.EscapeEntry {
	f.list.Add(widgets.NewHeading(fmt.Sprintf("Person %d", len(f.persons)+1)))
	f.persons = append(f.persons, fields(f, f.list, personLines))
	return f.persons[len(f.persons)-1]
}

// more adds a person, whose name is typed next.
func (f *peopleForm) more(rows *fyne.Container) {
	name := f.add()[0]
	rows.Refresh()
	if c := fyne.CurrentApp().Driver().CanvasForObject(f.scroll); c != nil {
		c.Focus(name)
	}
}

// fill writes what is known into the fields, with room for one person at least.
func (f *peopleForm) fill(h *home) {
	f.due.SetText(h.due)
	f.act.SetText(h.act)
	write(f.party, partyLines, &h.people)
	f.persons, f.list.Objects = nil, nil
	for i := range h.people.Party {
		write(f.add(), personLines, &h.people.Party[i])
	}
	if len(f.persons) == 0 {
		f.add()
	}
	f.list.Refresh()
}

// read takes what is typed. A person without any entry is left out.
func (f *peopleForm) read() (*home, error) {
	h := &home{due: strings.TrimSpace(f.due.Text), act: strings.TrimSpace(f.act.Text)}
	take(f.party, partyLines, &h.people)
	for _, typed := range f.persons {
		x := card.Person{}
		if take(typed, personLines, &x); x != (card.Person{}) {
			h.people.Party = append(h.people.Party, x)
		}
	}
	return h, h.people.Check()
}

// write writes texts into their fields.
func write[T any](to []*widgets.EscapeEntry, lines []line[T], from *T) {
	for i, l := range lines {
		to[i].SetText(*l.of(from))
	}
}

// take takes the texts that are typed.
func take[T any](typed []*widgets.EscapeEntry, lines []line[T], to *T) {
	for i, l := range lines {
		*l.of(to) = strings.TrimSpace(typed[i].Text)
	}
}

// peopleEnding is the ending of files of people, which card.ReadPeople reads.
const peopleEnding = ".json"

// askRead reads the people from a file.
func (f *peopleForm) askRead() {
	f.r.n.Dialogs.OpenPath(ask.Path{Title: "Read the party from a file", Verb: "Read", Start: f.r.n.Files.Saver.Folder(), Endings: []string{peopleEnding}, Done: f.readFile})
}

func (f *peopleForm) readFile(path string) {
	var people card.People
	f.r.saving.Start("Reading "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		in, err := openfile.Open(path)
		if err != nil {
			return err
		}
		defer in.Close()
		people, err = card.ReadPeople(in)
		return err
	}, func(err error) {
		if err != nil {
			f.r.n.Dialogs.Refuse("The party's details were not read", err)
			return
		}
		f.fill(&home{people, f.due.Text, f.act.Text})
	})
}

// askSave saves the people to a file, because the person asks for it.
func (f *peopleForm) askSave() {
	h, err := f.read()
	if err != nil {
		f.r.n.Dialogs.Refuse("The party's details were not saved", err)
		return
	}
	f.r.n.Dialogs.SavePath(ask.Path{
		Title: "Save the party to a file", Verb: "Save", Endings: []string{peopleEnding}, Start: filepath.Join(f.r.n.Files.Saver.Folder(), "people"+peopleEnding),
		Done: func(path string) { f.saveFile(path, h.people, false) },
	})
}

func (f *peopleForm) saveFile(path string, people card.People, over bool) {
	f.r.saving.Start("Saving "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		text, err := json.MarshalIndent(people, "", "\t")
		if err == nil && path == f.r.n.Kept {
			err = os.MkdirAll(filepath.Dir(path), 0o700)
		}
		if err != nil {
			return err
		}
		return atomicfile.WriteBytes(path, atomicfile.Options{ReadOnly: over, Private: true}, append(text, '\n'))
	}, func(err error) {
		if err != nil {
			f.r.n.Files.AskReadOnly("The party's details were not saved", err, func() { f.saveFile(path, people, true) })
			return
		}
		words := "Saved " + filepath.Base(path) + ". It contains personal data."
		if path == f.r.n.Kept {
			words = "The party's personal data is kept on this computer. Untick the box under “Name the party…” to delete it."
		}
		f.r.say(words)
	})
}
