package routepanel

import (
	"fmt"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// clock is the part of the plan's section about time: start and time zone, the rule of
// walking times, when the route ends and when it is dark.
type clock struct {
	n           *Needs
	start, zone *widgets.EditField
	rule, walk  *widgets.Sentence
	dark        *widgets.Sentence
}

func newClock(n *Needs) *clock {
	c := &clock{
		n: n, rule: widgets.NewSentence("", widgets.Note),
		walk: widgets.NewSentence("", widgets.Note), dark: widgets.NewSentence("", widgets.Note),
	}
	c.start = widgets.NewEditField("start, such as 9:30", c.setStart, n.View.Focus)
	c.zone = widgets.NewEditField("time zone, such as Europe/London", c.setZone, n.View.Focus)
	return c
}

// rows are what the section shows, from the top.
func (c *clock) rows() []fyne.CanvasObject {
	timing := button(c.n, "", "Walking time…", "The rule for walking times, fitness and rests", func() { askTiming(c.n) })
	return []fyne.CanvasObject{
		widgets.NewLabelled("start", wheeled(c.n, c.start)), widgets.NewLabelled("time zone", wheeled(c.n, c.zone)), container.NewHBox(timing), c.rule, c.walk, c.dark,
	}
}

// fill shows them. While figures are hidden, what follows from the route's length is too.
func (c *clock) fill(concealed bool) {
	p := c.n.Session.Plan()
	c.start.ShowText("", p.Timing.Start.String())
	c.zone.ShowText("", p.Timing.Zone)
	c.rule.Set("Walking time: "+p.TimingWords()+".", widgets.Note)
	walk, tone := routeWords(c.n.Session.Rows(), p)
	if concealed {
		walk, tone = "The figures of the route are hidden.", widgets.Note
	}
	c.walk.Set(walk, tone)
	dark, mood := c.n.Session.Reader().SunsetWords(), widgets.Note
	if off, far := c.n.Session.Reader().OffSun(); far {
		dark, mood = off.Text()+" "+dark, widgets.Caution
	}
	c.dark.Set(dark, mood)
}

func (c *clock) setStart(text string) bool {
	if !c.n.Foot.Try(c.n.Session.SetStart(text), "Changed.") {
		return false
	}
	c.start.ShowText("", c.n.Session.Plan().Timing.Start.String())
	switch p := c.n.Session.Plan(); {
	case c.n.Session.StartIsPast():
		c.n.Foot.Say("Changed. This start is in the past.")
	case p.Timing.Start.Set && p.Timing.Zone == "":
		c.n.Foot.Say("Changed. Type the time zone of the area too: without it there are no clock times.")
	}
	return true
}

func (c *clock) setZone(text string) bool {
	if !c.n.Foot.Try(c.n.Session.SetZone(text), "Changed.") {
		return false
	}
	c.zone.ShowText("", c.n.Session.Plan().Timing.Zone)
	if c.n.Session.StartIsPast() {
		c.n.Foot.Say("Changed. This start is in the past.")
	}
	return true
}

// routeWords say how long the route takes and when it ends, or what is missing.
func routeWords(rows []leg.Row, p *plan.Plan) (string, widgets.Tone) {
	var walking time.Duration
	known := 0
	for _, r := range rows {
		walking += r.Time
		if r.Time > 0 {
			known++
		}
	}
	against, tone := againstTimes(rows)
	switch {
	case len(rows) == 0:
		return "The route has no legs yet.", tone
	case against != "" && known < len(rows):
		return against, tone
	case known == 0:
		return "No leg of the route has a walking time.", tone
	}
	words := "Walking " + units.Minutes(walking) + leg.UntimedWords(rows) + ", rests " + units.Minutes(p.Timing.Rests(walking)) + "."
	switch end := rows[len(rows)-1].ClockWords(p.Date); {
	case end != "":
		words += " The route ends at " + end + "."
	case p.Date.IsZero():
		words += " Type the date to see clock times."
	case !p.Timing.Start.Set:
		words += " Type the start time to see clock times."
	case p.Timing.Zone == "":
		words += " Type the time zone to see clock times."
	default:
		words += " Clock times stop at a gap in the route, or at a leg that has no time."
	}
	return strings.TrimSpace(words + " " + against), tone
}

// againstTimes is the gravest of what speaks against the times of a route: a stop, else the
// first leg in the dark, else whatever comes first. That the clock is far from the sun stands
// with the sunset.
func againstTimes(rows []leg.Row) (words string, tone widgets.Tone) {
	gravest := 0
	tone = widgets.Note
	for i, r := range rows {
		for _, c := range r.TimeCautions {
			weight, its := 1, widgets.Caution
			switch {
			case c.Code == caution.ZoneOffSun:
				weight = 0
			case c.Stop():
				weight, its = 3, widgets.Fault
			case c.Code == caution.InTheDark:
				weight = 2
			}
			if weight <= gravest {
				continue
			}
			gravest, words, tone = weight, c.Text(), its
			if c.Code == caution.InTheDark || c.Code == caution.AfterSunset {
				words = fmt.Sprintf("Leg %d: %s", i+1, words)
			}
		}
	}
	return words, tone
}
