package headless

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime/debug"
	"strings"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/card"
	"legwright/mapio/openfile"
	"legwright/mapio/paper"
	"legwright/mapio/planfile"
)

const cardHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan.

--form hill is the card that the leader carries: the legs with what to set, escapes and
turn-back times beneath the leg that starts at their mark, what to say on the telephone,
tables of times and paces, and the map at true scale. A6 and pocket (74 × 105 mm) show only
the legs, with what to set, how far, and notes on the ground.

--form legs prints one leg on each card. --up puts 4 or 8 cards on a page, with marks to cut
along; on small paper there is 1.

--form sheet prints a page about each map: its grid, its control points with residuals, what
it was checked against and to how many metres.

--form base is the sheet for the person at home: whom to ring and when, who is out, where
they will be and about when, where each escape comes out, and the map. It needs A5 or larger
paper. The party is due back at the end of the route by the plan's clock, or at --due-back,
which is needed where the climb of a leg is not known. ACT AT is 2 hours later, or --act-at.
Give times as 17:30 or 2026-11-28 17:30. On Linux and macOS nobody but you can read the PDF
of a base sheet.

Names, telephone numbers and medical notes come only from --people FILE, and appear on no
other paper and in no plan. What the file leaves out is printed as a line to fill in by
hand, except telephone numbers and medical notes. The file is one JSON object with the keys
  people            a list of objects with name and, if you like, phone, phone_on (when it
                    is switched on), clothing (colours) and medical
  emergency_number  the number to ring in the country where the party walks; required
  ask_for           whom to ask for on that number
  experience        how experienced the party is
  shelter           colours of tents and bags
  vehicle, vehicle_stands_at

Every page shows DRAFT and "sheet unchecked" where they apply, every stop, the date, the
plan number and when the plan was saved. The plan number is the first 6 hexadecimal digits
of the plan's SHA-256, which leaves out when it was saved and the paths of its pictures and
terrain.

An escape is refused if one of its legs crosses a danger, comes nearer to one than the
distance to keep, or crosses over-steep ground. Draw it round the danger, or leave it out
with --without E03-1 (several: E03-1,E05-2); the card then says so. The escapes command
lists the names.

An existing file is overwritten, but a read-only file only with --force, and a plan never.
`

func cardCommand() command {
	return command{
		name:  "card",
		usage: "PLAN --form " + strings.Join(formNames(), "|") + " --paper " + strings.Join(paperNames(), "|") + " [--landscape] [--scale 25000] [--no-map] [--no-profile] [--up 1|4|8] [--people FILE [--due-back 17:30] [--act-at 19:30]] [--without E03-1] --pdf OUT [--force]",
		about: "print a plan as a PDF",
		run:   runCard,
	}
}

func formNames() (names []string) {
	for _, f := range card.Forms() {
		names = append(names, string(f))
	}
	return names
}

func paperNames() (names []string) {
	for _, s := range paper.Sizes() {
		names = append(names, strings.ToLower(s.Name))
	}
	return names
}

// cardRequest is what is asked of the command.
type cardRequest struct {
	plan      string
	form      choiceFlag[string]
	paper     choiceFlag[string]
	turned    bool
	up        int
	scale     int
	noMap     bool
	noProfile bool
	without   string
	people    string
	dueBack   string
	actAt     string
	to        target
}

func runCard(c command, args []string, s streams) error {
	q := cardRequest{form: choiceFlag[string]{of: formNames(), value: formNames()[0]}, paper: choiceFlag[string]{of: paperNames(), value: paperNames()[0]}}
	o := newOptions(c, cardHelp)
	o.Var(&q.form, "form", "the `FORM`: "+strings.Join(formNames(), ", ")+" (default "+q.form.value+")")
	o.Var(&q.paper, "paper", "the `SIZE`: "+oneOf(paperNames())+" (default "+q.paper.value+")")
	o.BoolVar(&q.turned, "landscape", false, "turn the paper on its side")
	o.IntVar(&q.scale, "scale", 0, "the scale of the map, `N` for 1:N, such as 25000 (default the map's own)")
	o.BoolVar(&q.noMap, "no-map", false, "print without the map")
	o.BoolVar(&q.noProfile, "no-profile", false, "print the hill card without the profile")
	o.IntVar(&q.up, "up", 0, "`N` leg cards on a page: 1, 4 or 8 (default 4, or 1 on a6 and pocket)")
	o.StringVar(&q.without, "without", "", "leave out these `ESCAPES`, such as E03-1,E05-2")
	o.StringVar(&q.people, "people", "", "the `FILE` that names the people, only for --form base")
	o.StringVar(&q.dueBack, "due-back", "", "the `TIME` at which the party is due back (default the end of the route)")
	o.StringVar(&q.actAt, "act-at", "", "the `TIME` at which the person at home acts (default 2 hours after due back)")
	o.StringVar(&q.to.file, "pdf", "", "the `FILE` to write")
	o.BoolVar(&q.to.force, "force", false, "overwrite a read-only file")
	words, err := o.read(args, s)
	if err == nil {
		q.plan, err = onePlan(words)
	}
	if err == nil {
		err = q.check()
	}
	if err != nil {
		return err
	}
	return q.write(s)
}

// check refuses flags that do not go together, and files that would be overwritten.
func (q cardRequest) check() error {
	switch {
	case q.up != 0 && q.up != 1 && q.up != 4 && q.up != 8:
		return usagef("--up %d: give 1, 4 or 8", q.up)
	case q.up != 0 && q.form.value != string(card.LegsForm):
		return usagef("--up works only with --form %s", card.LegsForm)
	case q.isBase() && q.people == "":
		return usagef("--form base needs --people FILE, with who walks and the emergency number")
	case !q.isBase() && q.people+q.dueBack+q.actAt != "":
		return usagef("--people, --due-back and --act-at work only with --form base")
	case q.scale != 0 && (q.scale < paper.LeastScale || q.scale > paper.MostScale):
		return usagef("--scale %d: give a number from %d to %d", q.scale, paper.LeastScale, paper.MostScale)
	case q.to.file == "":
		return usagef("--pdf is missing: name the file to write, such as --pdf card.pdf")
	case q.people != "" && sameFile(q.people, q.to.file):
		return fmt.Errorf("%s is the people file: name another one for the PDF", q.to.file)
	case sameFile(q.plan, q.to.file) || strings.EqualFold(filepath.Ext(q.to.file), planfile.Ext):
		return fmt.Errorf("%s is a plan, or has the name of one: name a .pdf file for the card", q.to.file)
	}
	return nil
}

// write writes the paper and says how many pages it has.
func (q cardRequest) write(s streams) error {
	reader, reach, err := readGround(q.plan, s)
	if err != nil {
		return err
	}
	o, err := q.order()
	if err != nil {
		return err
	}
	defer debug.SetGCPercent(debug.SetGCPercent(rectifyGC)) // the picture is most of the heap
	content, pdf, err := card.Make(context.Background(), q.source(reader), o, card.Beside{Home: q.home, Open: func(ctx context.Context, x plan.Sheet) (card.Picture, error) {
		return planPicture(ctx, x, reach)
	}})
	if bad := new(card.Dangerous); errors.As(err, &bad) {
		return fmt.Errorf("%w The flag for that is --without %s", err, strings.Join(bad.Names, ","))
	}
	if err == nil {
		q.to.private = q.isBase()
		err = q.to.write(pdf)
	}
	if err != nil {
		return err
	}
	speakRaised(leg.Raised(reader.Legs()), s)
	speakRaised(escape.Of(reader).Raised(), s)
	_, err = fmt.Fprintf(s.out, "%s: form %s, %s, plan %s, %s\n", q.to.file, q.form.value, o.Size, content.Number, content.Saved)
	return err
}

// order is what is put on paper.
func (q cardRequest) order() (card.Order, error) {
	size, err := paper.SizeOf(q.paper.value)
	if q.turned {
		size = size.Landscape()
	}
	return card.Order{Form: card.Form(q.form.value), Size: size, Up: q.up, Scale: q.scale, NoMap: q.noMap, NoProfile: q.noProfile}, err
}

func (q cardRequest) isBase() bool { return q.form.value == string(card.BaseForm) }

// home is what a base sheet says beside the plan.
func (q cardRequest) home(c *card.Content) (*card.Home, error) {
	f, err := openfile.Open(q.people)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	people, err := card.ReadPeople(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.people, err)
	}
	return c.Home(people, q.dueBack, q.actAt)
}

// source is what the card is made of. A plan in which something had to be corrected counts as
// not saved: its file does not hold it so.
func (q cardRequest) source(r *leg.Reader) card.Source {
	s := card.Source{Reader: r, File: q.plan, Omit: namesOf(q.without)}
	if p := r.Plan(); len(p.Mended) == 0 {
		s.Saved = p.Saved
	}
	return s
}

// namesOf are names between commas.
func namesOf(list string) (names []string) {
	for _, name := range strings.Split(list, ",") {
		if name = strings.TrimSpace(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}
