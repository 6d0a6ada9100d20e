package card

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"legwright/mapio/paper"
)

// dueType is the type of the two times that the person at home acts by, stepType that of what
// to do.
var (
	dueType  = paper.Style{Pt: 16, Bold: true}
	stepType = paper.Style{Pt: 10}
)

const stepGapMM = 0.8 // between two steps

// ErrSmallBase says that a base sheet needs more paper.
var ErrSmallBase = errors.New("a base sheet needs room for the party and the map of the whole route: choose A5 or larger paper")

// Base is the sheet for the person at home, as PDF: whom to ring and when, who is out, where they
// will be, where they would come out, and the map. Errors: ErrSmallBase, ErrNoEnd, those of
// People.Check, of times that contradict each other, and those of Hill.
func (c *Content) Base(ctx context.Context, o Print) ([]byte, error) {
	switch {
	case Small(o.Size):
		return nil, ErrSmallBase
	case o.Home == nil:
		return nil, errors.New("the base sheet has no party yet: name everybody in it, and give the emergency number")
	}
	h := *o.Home
	if err := h.People.Check(); err != nil {
		return nil, err
	}
	due, act, err := c.clock.times(h)
	if err != nil {
		return nil, err
	}
	d, err := paper.New(o.Size, c.info(BaseForm.Title()))
	if err != nil {
		return nil, err
	}
	f := newFlow(d)
	c.act(f, h.People, due, act)
	c.people(f, h.People)
	c.whereabouts(f)
	c.waysOut(f, due, act)
	c.section(f, "Say a position on the telephone", c.saidLines()...)
	c.section(f, "Cautions", c.gravest()...)
	if len(o.Maps) == 0 {
		f.say(boldType, "Map", "No map is printed with this sheet: leave a map with it, with the route drawn on.")
	}
	for _, m := range o.Maps {
		if err := d.AddMaps(ctx, m); err != nil {
			return nil, err
		}
	}
	return d.Bytes()
}

// gravest are the stops in sentences: notes on bearings and ground help nobody at home.
func (c *Content) gravest() (out []string) {
	for _, line := range c.Cautions {
		if strings.HasPrefix(line, "STOP") || line == PlanningAid {
			out = append(out, line)
		}
	}
	return out
}

// act sets what the person at home does, and when.
func (c *Content) act(f *flow, p People, due, act time.Time) {
	f.say(titleType, c.Title, "For the person at home: "+c.Title)
	f.say(boldType, c.Title, lines(c.Date, c.Left))
	f.gap()
	f.say(dueType, "Due back", "DUE BACK "+c.clock.words(due))
	f.say(dueType, "Act at", "ACT AT "+c.clock.words(act))
	f.gap()
	ring := "They left no telephone number. If you have not heard from them by the time they are due back, go on to 3."
	if all := p.numbers(); all != "" {
		ring = "If you have not heard from them by the time they are due back, ring them: " + all + ". On the hill a telephone is often off or without signal: keep trying."
	}
	for _, x := range []struct {
		style paper.Style
		line  string
	}{
		{stepType, "1. They will ring you as soon as they are back, even if they come out somewhere else. If you hear earlier that somebody is hurt, lost or in danger, do not wait: ring the emergency number at once."},
		{stepType, "2. " + ring},
		{boldType, "3. At ACT AT, if you still have not heard from them, ring " + joined(", ", unbroken(p.Emergency), labelled("ask for ", p.AskFor)) + ", and say:"},
		{stepType, "“" + c.message(p, due) + "”"},
		{stepType, "4. Stay where they can ring you, and do not go out to look for them by yourself. If you hear from them afterwards, ring the same number again and say so."},
	} {
		f.say(x.style, "What to do, continued", x.line)
		_, f.rest = f.rest.Top(stepGapMM)
	}
	f.gap()
}

// message is what is said at ACT AT.
func (c *Content) message(p People, due time.Time) string {
	first, last := c.Route[0], c.Route[len(c.Route)-1]
	words := []string{
		fmt.Sprintf("%s overdue. They were due back at %s.", partyWords(len(p.Party)), c.clock.words(due)),
		fmt.Sprintf("They set out on foot from %s, %s, for %s, %s; the references are on %s.", first.Name, first.Ref, last.Name, last.Ref, c.grids),
	}
	if p.Vehicle != "" || p.VehicleAt != "" {
		words = append(words, "Their vehicle: "+joined(", ", p.Vehicle, labelled("parked at ", p.VehicleAt))+".")
	}
	route := "their route with its times"
	if c.clock.end.IsZero() {
		route = "their route"
	}
	words = append(words, fmt.Sprintf("I have in front of me their names, and %s: plan %s.", route, c.Number))
	return strings.Join(words, " ")
}

func partyWords(n int) string {
	if n == 1 {
		return "One walker is"
	}
	return fmt.Sprintf("A party of %d is", n)
}

// people set who is out, one by one and then all together. What was not given is a line to fill in by
// hand.
func (c *Content) people(f *flow, p People) {
	f.need(6 * boldType.Height())
	const again = "Who is out, continued"
	f.say(boldType, "Who is out", fmt.Sprintf("Who is out: %d", len(p.Party)))
	for i, x := range p.Party {
		f.needUnder(again, 3*boldType.Height())
		f.say(headType, again, fmt.Sprintf("%d. %s", i+1, x.Name))
		f.say(plainType, x.Name, x.words())
	}
	f.needUnder(again, 5*boldType.Height())
	f.say(headType, again, "The whole party")
	type entry struct{ label, text string }
	list := []entry{{"Experience:", p.Experience}, {"Colours of shelters:", p.Shelter}}
	if p.Vehicle != "" && p.VehicleAt != "" {
		list = append(list, entry{"Vehicle:", p.Vehicle + ", parked at " + p.VehicleAt})
	} else {
		list = append(list, entry{"Vehicle:", p.Vehicle}, entry{"Parked at:", p.VehicleAt})
	}
	for _, x := range list {
		if x.text == "" {
			f.write(x.label)
		} else {
			f.say(plainType, x.label, x.label+" "+x.text)
		}
	}
	f.gap()
}

// whereabouts set where the party will be and about when.
func (c *Content) whereabouts(f *flow) {
	f.need(8 * boldType.Height())
	f.say(boldType, "Where they will be", "Where they will be, and about when")
	f.say(plainType, "Where they will be", lines(c.timeWords()+" References are on "+c.grids+".", c.Sheets))
	t := paper.Table{Columns: []paper.Column{{Head: "about", Min: 12, Ideal: 16}, {Head: "where they are", Min: 24, Ideal: 60, Grow: true}, {Head: "where that is", Min: 24, Ideal: 60, Grow: true}}}
	for _, x := range c.Route {
		t.Rows = append(t.Rows, paper.Row{Cells: []paper.Cell{
			{Text: dash(x.Clock), Style: headType}, {Text: x.Name + ", " + x.Ref}, {Text: joined("; ", x.Where, x.Notes)},
		}})
	}
	f.table(t)
}

// timeWords say how far the times can be trusted.
func (c *Content) timeWords() string {
	switch {
	case c.clock.end.IsZero():
		return "Not all times of the route are known."
	case c.flat:
		return "Times are a plan, and leave out the climb of some legs: expect the party later than these times."
	}
	return "Times are a plan, not a promise."
}

// waysOut set where the party would come out by each escape.
func (c *Content) waysOut(f *flow, due, act time.Time) {
	var list []string
	for _, x := range c.Out {
		list = append(list, x.words(c.clock, due, act))
	}
	if len(list) == 0 {
		list = []string{"This sheet lists no escape routes, so it cannot say where they would come out if they leave the route."}
	}
	c.section(f, "If they turn off the route", list...)
}

// saidLines are the positions as they are said on the telephone.
func (c *Content) saidLines() (out []string) {
	for _, s := range c.Say {
		out = append(out, s.Name+": "+s.Line+".")
	}
	return out
}
