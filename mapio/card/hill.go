package card

import (
	"context"
	"fmt"
	"strings"

	"legwright/mapio/paper"
)

// Print says how a form is put on paper.
type Print struct {
	Size      paper.Size  // upright or landscape
	Up        int         // leg cards on a sheet of paper: 1, 4 or 8
	Maps      []paper.Cut // behind a hill card or base sheet; see Content.Maps
	NoProfile bool        // a hill card without the profile
	Home      *Home       // of a base sheet; no other form prints any of it
}

// Type of the cards. SET is never below 14 points, all else never below paper.MinPt.
var (
	setType   = paper.Style{Pt: 15, Bold: true}
	titleType = paper.Style{Pt: 14, Bold: true}
	boldType  = paper.Style{Pt: 10, Bold: true}
	headType  = paper.Style{Bold: true}
	plainType = paper.Style{}
)

// smallEdgeMM is the short edge up to which paper carries the short card alone.
const smallEdgeMM = 110

// Hill is the card that the leader carries, as PDF; on A6 and smaller the short one. The errors
// are those of mapio/paper, such as paper too small for the cautions, and of the map.
func (c *Content) Hill(ctx context.Context, o Print) ([]byte, error) {
	d, err := c.laidOut(o, profileMM)
	if err != nil {
		return nil, err
	}
	if Small(o.Size) {
		return d.Bytes()
	}
	if d.Pages() > 1 && !o.NoProfile && len(c.route) > 0 {
		if lower, err := c.laidOut(o, lowProfileMM); err == nil && lower.Pages() < d.Pages() {
			d = lower
		}
	}
	for _, m := range o.Maps {
		if err := d.AddMaps(ctx, m); err != nil {
			return nil, err
		}
	}
	return d.Bytes()
}

// laidOut is the card without its maps, with a profile of that height.
func (c *Content) laidOut(o Print, profileMM float64) (*paper.Doc, error) {
	d, err := paper.New(o.Size, c.info(HillForm.Title()))
	if err != nil {
		return nil, err
	}
	f := newFlow(d)
	if Small(o.Size) {
		f.say(headType, c.Title, c.shortHousing())
		f.table(c.shortTable(f.rest.W))
		return d, nil
	}
	c.heading(f)
	f.table(c.legTable(f.rest.W))
	if !o.NoProfile {
		c.profile(f, profileMM)
	}
	c.foot(f)
	return d, nil
}

// Small reports whether a paper carries the short card alone, without a map.
func Small(s paper.Size) bool { return min(s.Width, s.Height) <= smallEdgeMM }

// info is what every page carries.
func (c *Content) info(form string) paper.Info {
	return paper.Info{Title: c.Title + ", " + form, Made: c.made, Foot: c.Foot(), Cautions: []string{strings.Join(c.Stops, " · ")}}
}

// Foot says which plan a page is of.
func (c *Content) Foot() string {
	return strings.Join([]string{c.Title, c.Date, "plan " + c.Number, c.Saved}, " · ")
}

// heading sets what stands before the legs.
func (c *Content) heading(f *flow) {
	f.say(titleType, c.Title, c.Title)
	f.say(boldType, c.Title, c.Date)
	f.gap()
	f.say(boldType, c.Title, lines(c.GMA, c.Housing+"."))
	f.say(plainType, c.Title, lines(c.Error, joined(" ", c.startWords(), c.Sunset), c.Sheets))
	f.say(boldType, c.Title, c.Left)
	for _, line := range c.Emergency {
		if strings.HasSuffix(line, ":") {
			f.write(line)
		} else {
			f.say(plainType, c.Title, line)
		}
	}
	f.gap()
	c.section(f, "Cautions", c.Cautions...)
}

// startWords say when the route starts, what the clocks in the rows of its legs are, and from
// which leg on there is none.
func (c *Content) startWords() string {
	at := c.Route[0].Clock
	if at == "" {
		return ""
	}
	words := "Start " + at + ". Each clock time is the end of a leg, rests included."
	for _, l := range c.Legs {
		switch {
		case l.Clock != "":
			continue
		case l.StartRef != "":
			return words + fmt.Sprintf(" From leg %d on there are no clock times: how long the gap before it takes is not known.", l.N)
		}
		return words + fmt.Sprintf(" From leg %d on there are no clock times: how long that leg takes is not known.", l.N)
	}
	return words
}

// foot sets what stands after the legs.
func (c *Content) foot(f *flow) {
	c.section(f, "Say it", c.saidLines()...)
	f.say(plainType, "Times", "Times: "+c.Timing+". Paces: "+c.Pacing+".")
	timing := TimingTable()
	head, figures := timing.Title+". "+c.pace.Title+".", tables(timing, c.pace)
	f.need(f.d.Tall(head, boldType, f.rest.W) + headMM + figures.Tall(f.d, f.rest.W)) // a row alone would be read under no head
	f.say(boldType, "Times", head)
	f.table(figures)
	c.section(f, "More cautions", c.More...)
}

// section sets a head and what stands below it, if there is anything.
func (c *Content) section(f *flow, head string, list ...string) {
	if len(list) == 0 {
		return
	}
	text := lines(list...)
	title, body := f.d.Tall(head, boldType, f.rest.W), f.d.Tall(text, plainType, f.rest.W)
	if title+body > f.p.Body.H/2 { // a shorter one stays whole
		body = min(body, 4*plainType.Height())
	}
	f.need(title + body)
	f.say(boldType, head, head)
	f.say(plainType, head+", continued", text)
	f.gap()
}

// tables are two tables of figures side by side.
func tables(a, b Figures) paper.Table {
	var t paper.Table
	for _, head := range append(append([]string{}, a.Head...), b.Head...) {
		t.Columns = append(t.Columns, paper.Column{Head: head, Min: 11, Ideal: 14, Grow: true, Align: paper.Right})
	}
	for i := range max(len(a.Rows), len(b.Rows)) {
		var r paper.Row
		for _, x := range []Figures{a, b} {
			for j := range x.Head {
				text := ""
				if i < len(x.Rows) {
					text = x.Rows[i][j]
				}
				r.Cells = append(r.Cells, paper.Cell{Text: text})
			}
		}
		t.Rows = append(t.Rows, r)
	}
	return t
}
