package card

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/plan"
	"legwright/mapio/paper"
)

// somebody are two invented people.
func somebody() People {
	return People{
		Party: []Person{
			{Name: "Anwen Vossgill", Phone: "+00 5550 010", PhoneOn: "on the hour", Clothing: "red jacket", Medical: "needs her inhaler"},
			{Name: "Tadeusz Żółćbrook"},
		},
		Shelter: "orange shelter", Vehicle: "white van ZQ7", VehicleAt: "the quay", Emergency: "000", AskFor: "hill rescue",
	}
}

// everyPerson is as many people as a sheet takes, with long values in every script.
func everyPerson() People {
	p := somebody()
	long := strings.Repeat("Κόκκινο μπουφάν, żółta czapka, серая куртка ", 4)
	for i := range mostPeople - len(p.Party) {
		p.Party = append(p.Party, Person{Name: longNames(i), Phone: "+00 5550 999", PhoneOn: long, Clothing: long, Medical: long})
	}
	return p
}

func base(c *Content, h Home, s paper.Size) ([]byte, error) {
	return c.Base(context.Background(), Print{Size: s, Home: &h})
}

// The base sheet on every paper but those too small for a map, and the longest: nothing is cut, every page carries the
// stops and the plan, and everybody, every position and the two times stand on it.
func TestBaseOnEveryPaper(t *testing.T) {
	t.Parallel()
	due := time.Date(2026, 11, 29, 0, 30, 0, 0, time.UTC)
	short, sixty := contentOf(t, sourceOf(t, route(1, plan.Letters))), contentOf(t, sourceOf(t, route(60, longNames)))
	on := func(c *Content, p People, s paper.Size) {
		t.Run(fmt.Sprintf("%d legs %s %g", len(c.Legs), s.Name, s.Width), func(t *testing.T) {
			t.Parallel()
			pdf, err := base(c, Home{People: p, DueBack: due}, s)
			baseHolds(t, c, p, pages(t, pdf, err))
		})
	}
	for _, size := range paper.Sizes() {
		if Small(size) {
			for _, s := range []paper.Size{size, size.Landscape()} {
				if _, err := base(short, Home{People: somebody(), DueBack: due}, s); !errors.Is(err, ErrSmallBase) {
					t.Errorf("%s: %v, want ErrSmallBase", s, err)
				}
			}
			continue
		}
		on(short, somebody(), size)
		on(short, somebody(), size.Landscape())
	}
	on(sixty, everyPerson(), paper.A4)
	on(sixty, everyPerson(), paper.A5)
}

// baseHolds checks the pages of a base sheet. Blanks and hyphens do not count.
func baseHolds(t *testing.T, c *Content, p People, all []string) {
	t.Helper()
	for i, page := range all {
		foot := squeezed(fmt.Sprintf("plan %s · not saved · page %d of %d", c.Number, i+1, len(all)))
		if page = squeezed(plain(page)); !strings.HasPrefix(page, squeezed(c.Stops[0])) || !strings.HasSuffix(page, foot) {
			t.Errorf("page %d: %.300s", i+1, page)
		}
	}
	text := unlined(c, all)
	wants := []string{"DUE BACK 00:30 on Sunday 29 November 2026", "ACT AT 02:30 on Sunday 29 November 2026", "ring them: " + p.Party[0].Name, "ring 000, ask for hill rescue, and say:"}
	for _, x := range p.Party {
		wants = append(wants, x.Name, x.Clothing, x.Medical)
	}
	for _, x := range c.Route {
		wants = append(wants, x.Name, x.Where)
	}
	for _, want := range wants {
		if !strings.Contains(text, squeezed(want)) {
			t.Fatalf("no %q in %.2000s", want, text)
		}
	}
}

// unlined is what stands on pages without the bands that each carries, blanks and hyphens.
func unlined(c *Content, all []string) string {
	var out strings.Builder
	for i, page := range all {
		page = squeezed(plain(page))
		page = strings.TrimPrefix(page, squeezed(strings.Join(c.Stops, " · ")))
		page = strings.TrimSuffix(page, squeezed(fmt.Sprintf("%s · page %d of %d", c.Foot(), i+1, len(all))))
		out.WriteString(page)
	}
	return out.String()
}

// The demo's sheet says where and when the party is, and how much later than due back it
// comes out by the escape. Worked by hand: the escape takes 36 min by day, 54 in the dark, and 10 more to
// where the party can be collected; it is left at 10:45 by the route, at 14:27 at the latest.
func TestBaseTimes(t *testing.T) {
	t.Parallel()
	c := contentOf(t, demoSource(t))
	pdf, err := base(c, Home{People: somebody()}, paper.A4)
	all := pages(t, pdf, err)
	if len(all) != 1 {
		t.Errorf("%d pages of A4, want all on one: %q", len(all), all[1:])
	}
	text := strings.Join(strings.Fields(strings.Join(all, " ")), " ")
	for _, want := range []string{
		"DUE BACK 11:42 GMT on Saturday 28 November 2026", "ACT AT 13:42 GMT on Saturday 28 November 2026", "09:30 Skelvig quay,", "10:45 Cairn, NL 2742 4509 1.3 km north-west of Wood corner",
		"DRAFT E04-1: from Cairn they come out at Skelvig road", "10 min from there to where they can be collected. STOP, do not rely on it: DRAFT.",
		"come out at about 11:31, 11 min before the DUE BACK time.", "they come out by about 15:31, 3 h 49 later than the DUE BACK time. If they go this way, they may still be walking at the ACT AT time.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
}

// What is of everybody does not stand below the last person, and nobody says that times are known that
// are not.
func TestBaseSaysWhoseAndWhatIsKnown(t *testing.T) {
	t.Parallel()
	c := contentOf(t, sourceOf(t, demoPlan(t).SetDate(plan.Date{})))
	pdf, err := base(c, Home{People: somebody(), DueBack: time.Date(2026, 11, 28, 17, 30, 0, 0, time.UTC)}, paper.A5)
	text := strings.Join(strings.Fields(plain(strings.Join(pages(t, pdf, err), " "))), " ")
	for _, want := range []string{"The whole party", "Vehicle: white van ZQ7, parked at the quay", "I have in front of me their names, and their route: plan "} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in %s", want, text)
		}
	}
	if strings.Index(text, "The whole party") < strings.LastIndex(text, "No telephone given.") || strings.Contains(text, "outing..") {
		t.Error(text)
	}
}

// A party that is past the turn-back time by its own plan does not come out sooner if it leaves later.
func TestBaseOfALatePlan(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	p := demoPlan(t)
	late := p.Timing
	late.Start = plan.ClockTime(13, 30)
	r, err := s.Reader.For(p.SetTiming(late))
	if err != nil {
		t.Fatal(err)
	}
	pdf, err := base(contentOf(t, Source{Reader: r}), Home{People: somebody()}, paper.A4)
	text := strings.Join(strings.Fields(plain(strings.Join(pages(t, pdf, err), " "))), " ")
	if !strings.Contains(text, "By the plan they are at Cairn after the latest time to leave it this way.") || strings.Contains(text, "If they leave at the latest time") {
		t.Error(text)
	}
}

// Due back is never earlier than the route's end and ACT AT never before due back; a plan
// without a clock asks for it, and one without a date for the day.
func TestBaseRefusesTimes(t *testing.T) {
	t.Parallel()
	c, none := contentOf(t, demoSource(t)), contentOf(t, sourceOf(t, demoPlan(t).SetDate(plan.Date{})))
	at := func(text string) time.Time {
		when, err := c.When(text)
		if err != nil {
			t.Fatal(err)
		}
		return when
	}
	for want, h := range map[string]Home{
		"the route ends at 11:42 GMT": {DueBack: at("11:00")},
		"before the party":            {DueBack: at("12:00"), ActAt: at("2026-11-28 11:59")},
	} {
		h.People = somebody()
		if _, err := base(c, h, paper.A4); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
	if _, err := base(none, Home{People: somebody()}, paper.A4); !errors.Is(err, ErrNoEnd) {
		t.Errorf("without a clock: %v", err)
	}
	flat := contentOf(t, sourceOf(t, demoPlan(t)))
	if _, err := base(flat, Home{People: somebody()}, paper.A4); err == nil || !strings.Contains(err.Error(), "or later: say when") {
		t.Errorf("without terrain: %v", err)
	}
	if _, err := base(flat, Home{People: somebody(), DueBack: at("15:00")}, paper.A4); err != nil {
		t.Errorf("without terrain, due back at 15:00: %v", err)
	}
	if _, err := none.When("17:30"); err == nil || !strings.Contains(err.Error(), "needs a date") {
		t.Errorf("without a date: %v", err)
	}
	if _, err := c.When("half past five"); err == nil {
		t.Error("half past five was read")
	}
	if _, err := c.Base(context.Background(), Print{Size: paper.A4}); err == nil {
		t.Error("a base sheet was made without people")
	}
}

// Nothing that is personal stands on any other form, in its words or in its file.
func TestNobodyStandsOnOtherPapers(t *testing.T) {
	t.Parallel()
	c, h := contentOf(t, demoSource(t)), Home{People: somebody()}
	personal := []string{"Vossgill", "5550", "Żółć", "red jacket", "inhaler", "ZQ7", "orange"}
	for _, form := range Forms() {
		pdf, err := c.Write(context.Background(), form, Print{Size: paper.A4, Up: 4, Home: &h})
		text := strings.Join(pages(t, pdf, err), " ")
		found := slices.DeleteFunc(slices.Clone(personal), func(s string) bool { return !strings.Contains(text, s) })
		switch {
		case form == BaseForm && len(found) != len(personal):
			t.Errorf("the base sheet has only %q", found)
		case form != BaseForm && len(found) > 0:
			t.Errorf("form %s says %q", form, found)
		}
		if strings.Contains(string(pdf), "Vossgill") {
			t.Errorf("form %s has a name in its file", form)
		}
	}
}
