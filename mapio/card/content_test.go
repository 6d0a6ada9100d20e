package card

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/mapio/planfile"
)

// degrees reads the first figure of a text.
func degrees(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(regexp.MustCompile(`\d+`).FindString(text))
	if err != nil {
		t.Fatalf("no figure in %q", text)
	}
	return n
}

// closing is what must close in a row: its bearings by its own GMA or that of the heading.
type closing struct{ what, grid, mag, gma, set, north string }

// closings are the rows of legs and of the compass legs of escapes.
func closings(c *Content) (out []closing) {
	for _, l := range c.Legs {
		out = append(out, closing{fmt.Sprint("leg ", l.N), l.Grid, l.Mag, l.GMA, l.Set, l.SetNorth})
		for _, e := range l.Escapes {
			for _, x := range e.Legs {
				if x.Along == "" {
					out = append(out, closing{fmt.Sprint(e.Name, " leg ", x.N), x.Grid, x.Mag, x.GMA, x.Set, x.SetNorth})
				}
			}
		}
	}
	return out
}

// Every row closes in the head: its magnetic bearing is its grid bearing less the GMA of the
// heading, or less its own where it prints one. Legs all round the compass, and escapes.
func TestEveryRowCloses(t *testing.T) {
	t.Parallel()
	own, escapes := 0, 0
	for _, p := range []*plan.Plan{demoPlan(t), withEscapes(demoPlan(t), 30), route(60, plan.Letters)} {
		c := contentOf(t, sourceOf(t, p))
		for _, l := range closings(c) {
			words := c.GMA
			if strings.HasPrefix(l.what, "E") {
				escapes++
			}
			if l.gma != "" {
				words, own = l.gma, own+1
			}
			gma := degrees(t, words)
			if strings.Contains(words, "west") {
				gma = -gma
			}
			grid, mag := degrees(t, l.grid), degrees(t, l.mag)
			if (grid-gma-mag)%360 != 0 || l.north != "mag" || degrees(t, l.set) != mag {
				t.Errorf("%s: %s, %s, %s; SET %s %s", l.what, l.grid, words, l.mag, l.set, l.north)
			}
			if rule := "take off " + strconv.Itoa(gma); l.gma == "" && !strings.Contains(c.GMA, rule) {
				t.Errorf("%q does not say %q", c.GMA, rule)
			}
		}
	}
	if own == 0 || escapes < 30 {
		t.Errorf("%d rows round otherwise, %d are of escapes: the test has no case for it", own, escapes)
	}
}

// withEscapes adds escapes of one leg from the start of the demo's leg 4, all round the compass.
func withEscapes(p *plan.Plan, n int) *plan.Plan {
	from := p.Legs[3].From
	for i := range n {
		at := p.Resolve(from).Grid
		turn := 2 * math.Pi * float64(i) / float64(n)
		end := plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: at.E + 90*math.Sin(turn), N: at.N + 90*math.Cos(turn)}, 1)
		p = p.AddEscape(plan.Escape{ID: p.NextID(plan.OfEscape), Start: from, Legs: []plan.EscapeLeg{{To: plan.AtPosition(end)}}})
	}
	return p
}

// The figures are those of the readings in the words of the headless command.
func TestFiguresAreThoseOfTheLegs(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	c := contentOf(t, s)
	for i, row := range s.Reader.Legs() {
		l, r := c.Legs[i], row.Reading
		grid, mag := r.Figures(units.WholeDegrees)
		got := []string{l.Ref, l.Set, l.Grid, l.Mag, l.Back, l.Distance, l.Minutes, l.Clock}
		want := []string{
			r.ToRef, r.SetFigure(units.WholeDegrees), grid, mag, r.ClosedBack(units.WholeDegrees).Magnetic + " mag",
			units.Metres(r.GroundM, r.DistanceSigmaM), units.Minutes(row.Time), row.Arrive.Round(time.Minute).Format("15:04"),
		}
		if !slices.Equal(got, want) {
			t.Errorf("leg %d:\ngot  %q\nwant %q", i+1, got, want)
		}
		if l.FixAgain != (r.GroundM > 500) || l.Climb == "+?" || l.EndHeight == "" || l.Paces == "" {
			t.Errorf("leg %d: %+v", i+1, l)
		}
	}
	if e := c.Legs[3].Escapes; len(e) != 1 || e[0].LeaveBy != "14:27, counted back from sunset at 16:03" || e[0].Time != "36 min" || !e[0].Draft {
		t.Errorf("the escape beneath leg 4 is %+v", e)
	}
	if !slices.Contains(c.Stops, "DRAFT: E04-1") || !strings.Contains(strings.Join(c.Cautions, "\n"), "STOP E04-1: DRAFT") {
		t.Errorf("stops %q, cautions %q", c.Stops, c.Cautions)
	}
}

// A housing that is set says so in the heading, and every figure to set is for it.
func TestWhichHousingSETIsFor(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	party := p.Party
	party.Compass.Set, party.Compass.SetTo = true, units.Degrees(2)
	for name, c := range map[string]struct {
		p           *plan.Plan
		words, mind string
	}{
		"not set":  {p, "SET is for an unset housing; if yours is set to the GMA above, use the grid column", "mag"},
		"set":      {p.SetParty(party), "SET is for a housing set to 2° E; if yours is unset, use the magnetic column; if it is set to anything else, use neither", "(2°\u00a0E)"},
		"no date":  {p.SetDate(plan.Date{}), "SET is for an unset housing, and cannot be worked out without the GMA", ""},
		"too late": {p.SetDate(plan.Date{Year: 2031, Month: 5, Day: 1}), "SET is for an unset housing, and cannot be worked out without the GMA", ""},
	} {
		x := contentOf(t, sourceOf(t, c.p))
		if x.Housing != c.words || x.Legs[0].SetNorth != c.mind || (c.mind == "") != (x.Legs[0].Set == "") {
			t.Errorf("%s: %q, SET %q %q", name, x.Housing, x.Legs[0].Set, x.Legs[0].SetNorth)
		}
		if c.mind == "" && (!strings.HasPrefix(x.GMA, "No GMA.") || x.Legs[0].Mag != "" || !strings.HasSuffix(x.Legs[0].Back, "grid")) {
			t.Errorf("%s: %q, magnetic %q, back %q", name, x.GMA, x.Legs[0].Mag, x.Legs[0].Back)
		}
	}
}

// An escape within the distance to keep from a crag is refused by name, and printed without it
// the paper says that it is left out, and gives no turn-back time by it.
func TestAnEscapeInDangerIsNotPrinted(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	p := s.Reader.Plan()
	at := p.Resolve(p.Escapes[0].Start).Grid
	corner := func(e, n float64) plan.Position {
		return plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: at.E + e, N: at.N + n}, 1)
	}
	p = p.AddHazard(plan.Hazard{ID: p.NextID(plan.OfHazard), Name: "the Fank crag", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{corner(5, -30), corner(60, -40)}})
	r, err := s.Reader.For(p)
	if err != nil {
		t.Fatal(err)
	}
	bad := &Dangerous{}
	if _, err := Of(Source{Reader: r}); !errors.As(err, &bad) || !slices.Equal(bad.Names, []string{"E04-1"}) || !strings.HasPrefix(err.Error(), "Escape E04-1, leg 1, comes ") || !strings.Contains(err.Error(), "the Fank crag") {
		t.Fatalf("got %v, want E04-1 refused", err)
	}
	c := contentOf(t, Source{Reader: r, Omit: []string{"E04-1"}})
	if c.Left != "Left out of this paper: E04-1." || c.Legs[3].Escapes != nil || c.Legs[3].TurnBack != "" || strings.Contains(strings.Join(slices.Concat(c.Stops, c.Cautions, c.More), " "), "E04-1") {
		t.Errorf("without it: %q, %+v, %q", c.Left, c.Legs[3], c.Stops)
	}
	if sheet, err := OfSheets(Source{Reader: r}); err != nil || !slices.Contains(sheet.Stops, "DRAFT: E04-1") || !strings.Contains(strings.Join(sheet.Stops, " "), "STOP E04-1") {
		t.Errorf("the page on the sheet, which offers no escape: %v, %+v", err, sheet)
	}
	if _, err := Of(Source{Reader: r, Omit: []string{"E09-9"}}); !errors.As(err, new(*Unknown)) {
		t.Errorf("an escape that is not there: %v", err)
	}
}

// What no page may be without: DRAFT, an unchecked sheet, every stop; and which plan it is.
func TestWhatEveryPageCarries(t *testing.T) {
	t.Parallel()
	p := demoPlan(t)
	sheet := p.Sheets[0]
	sheet.Evidence = nil
	saved := time.Date(2026, 11, 27, 20, 15, 0, 0, time.UTC)
	s := sourceOf(t, p.SetSheet(sheet))
	s.Saved = saved
	c := contentOf(t, s)
	if !slices.Equal(c.Stops, []string{"DRAFT: E04-1", "sheet unchecked"}) || c.Saved != "saved 27 November 2026, 20:15 UTC" {
		t.Errorf("%q, %q", c.Stops, c.Saved)
	}
	number, err := planfile.Number(p.SetSheet(sheet))
	if err != nil || c.Number != number {
		t.Errorf("plan number %q, want %q, %v", c.Number, number, err)
	}
	sheet.Points = nil
	lost := contentOf(t, sourceOf(t, p.SetSheet(sheet)))
	if !slices.ContainsFunc(lost.Stops, func(x string) bool {
		return strings.HasPrefix(x, "STOP") && strings.Contains(x, "sheet not calibrated")
	}) {
		t.Errorf("an uncalibrated sheet: %q", lost.Stops)
	}
	if _, err := Of(sourceOf(t, plan.New(plan.Date{}))); !errors.Is(err, ErrNoLegs) {
		t.Errorf("no legs: %v", err)
	}
	if clean := contentOf(t, Source{Reader: s.Reader}); clean.Saved != "not saved" {
		t.Errorf("not saved: %q", clean.Saved)
	}
}

// A card gives the reference of every position that is walked to or from: the start of the route
// and of each part behind a gap, and both ends of each leg of an escape. Behind a gap there is no
// clock, and the heading says why.
func TestEveryPositionHasItsReference(t *testing.T) {
	t.Parallel()
	p := route(4, plan.Letters)
	p = p.Remove(p.Legs[1].ID)
	timing := p.Timing
	timing.Start, timing.Zone = plan.ClockTime(9, 30), "Europe/London"
	p = p.SetTiming(timing)
	hut := plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: 231_234, N: 722_345}, 1)
	off := plan.ImportedAt(geodesy.EPSG(27700), geodesy.Grid{E: 232_468, N: 723_456}, 1)
	for _, from := range []plan.End{p.Legs[1].From, plan.AtPosition(off)} {
		p = p.AddEscape(plan.Escape{ID: p.NextID(plan.OfEscape), Start: from, Legs: []plan.EscapeLeg{{To: plan.AtPosition(hut)}}})
	}
	s := sourceOf(t, p)
	c := contentOf(t, s)
	ref := func(pos plan.Position) string {
		text, err := s.Reader.Reference(pos)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	for i, want := range []string{ref(p.Resolve(p.Legs[0].From)), ref(p.Resolve(p.Legs[1].From)), ""} {
		if got := c.Legs[i].StartRef; got != want {
			t.Errorf("the start of leg %d: %q, want %q", i+1, got, want)
		}
	}
	if words := c.startWords(); !strings.HasSuffix(words, "From leg 2 on there are no clock times: how long the gap before it takes is not known.") {
		t.Errorf("the heading does not say why leg 2 has no clock: %q", words)
	}
	on, offs := c.Legs[1].Escapes, c.Off
	if len(on) != 1 || len(offs) != 1 {
		t.Fatalf("%d escapes from leg 2, %d from no mark of the route; want one each", len(on), len(offs))
	}
	if on[0].FromRef != "" || on[0].Legs[0].Ref != ref(hut) || offs[0].FromRef != ref(off) || offs[0].Legs[0].Ref != ref(hut) {
		t.Errorf("got %+v, %+v", on[0], offs[0])
	}
}
