package routepanel_test

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/light"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// Start and zone are typed in the section of the plan; then it says when the route ends
// and when the sun sets, and none of the route's times while figures are hidden.
func TestStartAndZone(t *testing.T) {
	x := stand(t, "")
	must(t, x.s.SetTiming(plan.DefaultTiming())) // as a plan of before
	x.ShowSection(routepanel.Plan)
	words := func() string { return strings.Join(strings.Fields(x.words()), " ") }
	if !strings.Contains(words(), "Type the start") || strings.Contains(words(), "ends at") {
		t.Errorf("without a start: %q", words())
	}
	x.fill(t, "start, such as 9:30", "930")
	if got := x.s.Plan().Timing.Start; got != plan.ClockTime(9, 30) || !strings.Contains(words(), "Type the time zone") {
		t.Errorf("start %v: %q", got, words())
	}
	x.fill(t, "time zone, such as Europe/London", "london")
	end := x.s.Rows()[len(x.s.Rows())-1].ClockWords(x.s.Plan().Date)
	if x.s.Plan().Timing.Zone != "Europe/London" || end == "" || !strings.Contains(words(), "ends at "+end) || !strings.Contains(words(), "Sunset 1") || !strings.Contains(words(), "Flat horizon") {
		t.Errorf("zone %q, end %q: %q", x.s.Plan().Timing.Zone, end, words())
	}
	x.Conceal(true)
	if strings.Contains(words(), end) || strings.Contains(words(), "Walking 1") || !strings.Contains(words(), "Sunset 1") {
		t.Errorf("hidden figures: %q", words())
	}
	x.Conceal(false)
	before := x.s.Plan()
	x.fill(t, "start, such as 9:30", "half nine")
	if x.s.Plan() != before || !x.line.Failed() {
		t.Errorf("a start that is none: %q", x.line.Message())
	}
	x.leave()
	x.fill(t, "time zone, such as Europe/London", "+01:00")
	if x.s.Plan() != before || !x.line.Failed() {
		t.Errorf("a zone that is none: %q", x.line.Message())
	}
	x.leave()
	must(t, x.s.SetDate("2025-11-28"))
	x.fill(t, "start, such as 9:30", "10")
	if !strings.Contains(x.line.Message(), "past") {
		t.Errorf("a start in the past: %q", x.line.Message())
	}
	x.leave()
	x.fill(t, routepanel.LocalDates(in("LANG", "")).Example(), "2025-11-27")
	if !strings.Contains(x.line.Message(), "past") {
		t.Errorf("a day in the past: %q", x.line.Message())
	}
}

// Of a route that begins at dusk and ends in the dark the panel names the first dark leg: the sunset of its
// first leg does not hide that.
func TestDarkBeforeDusk(t *testing.T) {
	x := stand(t, "")
	must(t, x.s.SetZone("Europe/London"))
	must(t, x.s.SetStart("16:10"))
	rows, first := x.s.Reader().Legs(), 0
	for first < len(rows) && rows[first].Light != light.Dark {
		first++
	}
	if first == 0 || first == len(rows) || !caution.Has(rows[0].TimeCautions, caution.AfterSunset) {
		t.Fatalf("the route is not one of dusk and dark: leg %d of %d is dark, the first leg has %v", first+1, len(rows), rows[0].TimeCautions)
	}
	x.ShowSection(routepanel.Plan)
	want := fmt.Sprintf("Leg %d: Part of the leg is walked in the dark", first+1)
	if words := strings.Join(strings.Fields(x.words()), " "); !strings.Contains(words, want) {
		t.Errorf("got %q, want %q in it", words, want)
	}
}

// What speaks against the times stands where the route's times do.
func TestRouteInTheDark(t *testing.T) {
	x := stand(t, "")
	must(t, x.s.SetZone("Europe/London"))
	must(t, x.s.SetStart("22:00"))
	x.ShowSection(routepanel.Plan)
	if words := x.words(); !strings.Contains(words, "in the dark") {
		t.Errorf("the night: %q", words)
	}
	x.s.Select(x.s.Plan().Legs[0].ID)
	x.ShowSection(routepanel.Selected)
	if words := x.words(); !strings.Contains(words, "in the dark") {
		t.Errorf("the leg at night: %q", words)
	}
	timing := x.s.Plan().Timing
	timing.Fitness, timing.Load = 50, true
	must(t, x.s.SetTiming(timing))
	x.ShowSection(routepanel.Plan)
	if words := strings.Join(strings.Fields(x.words()), " "); !strings.Contains(words, "too much for the party") || strings.Contains(words, "Walking 0") {
		t.Errorf("too much: %q", words)
	}
}

// A zone far from the sun is doubted where the sunset is shown, with or without a start; and
// a sum of walking times names the leg that it leaves out.
func TestWhatSpeaksAgainstTimes(t *testing.T) {
	x := stand(t, "")
	must(t, x.s.SetTiming(plan.DefaultTiming()))
	x.ShowSection(routepanel.Plan)
	words := func() string { return strings.Join(strings.Fields(x.words()), " ") }
	must(t, x.s.SetZone("Europe/London"))
	if got := words(); strings.Contains(got, "the sun here") {
		t.Errorf("in its own zone: %q", got)
	}
	must(t, x.s.SetZone("Asia/Tokyo"))
	if x.s.Plan().Timing.Start.Set {
		t.Fatal("the plan has a start")
	}
	if got := words(); !strings.Contains(got, "the sun here. Make sure that the plan has the right time zone. Sunset") {
		t.Errorf("nine hours off: %q", got)
	}
	if got := words(); !strings.Contains(got, "Walking") || strings.Contains(got, "not counting") {
		t.Errorf("all legs have a time: %q", got)
	}
	must(t, x.s.SetLegGround(x.s.Plan().Legs[1].ID, pace.Plantation))
	if got := words(); !strings.Contains(got, "(not counting leg 2), rests") {
		t.Errorf("leg 2 has none: %q", got)
	}
}

// The ground of a leg is chosen beside its name, and selecting another leg chooses
// nothing.
func TestGroundOfALeg(t *testing.T) {
	x := stand(t, "")
	legs := x.s.Plan().Legs
	x.s.Select(legs[0].ID)
	choice, ok := uitest.Find[*widgets.Select](x.w, pace.Unsaid.String())
	if !ok {
		t.Fatal("there is no choice of ground")
	}
	choice.SetSelected(pace.Rough.String())
	after := x.s.Plan()
	if l, _ := after.LegByID(legs[0].ID); l.Ground != pace.Rough {
		t.Errorf("the ground is %q", l.Ground)
	}
	x.s.Select(legs[1].ID)
	if x.s.Plan() != after || choice.Selected != pace.Unsaid.String() {
		t.Errorf("selecting another leg chose %q", choice.Selected)
	}
	x.s.Undo()
	first, _ := x.s.Plan().ThingByID(legs[0].ID)
	from, to := x.s.Plan().Resolve(first.Points[0]), x.s.Plan().Resolve(first.Points[1])
	side := to
	side.Grid.E, side.Grid.N = to.Grid.E+(to.Grid.N-from.Grid.N)/2, to.Grid.N-(to.Grid.E-from.Grid.E)/2
	if _, err := x.s.AddArea(pace.Rough, []plan.Position{from, to, side}); err != nil {
		t.Fatal(err)
	}
	if x.s.Select(legs[0].ID); !strings.Contains(strings.Join(x.w.Texts(), " "), "From the areas drawn on the sheet: rough ") {
		t.Error("the panel does not say that the leg lies on rough ground")
	}
	x.s.Undo()
	if x.s.Select(legs[0].ID); choice.Selected != pace.Unsaid.String() {
		t.Errorf("after undo it is %q", choice.Selected)
	}
	for _, k := range []fyne.KeyName{fyne.KeyReturn, fyne.KeyEscape} {
		x.w.Canvas().Focus(choice)
		if x.w.Key(k); x.w.Canvas().Focused() == fyne.Focusable(choice) {
			t.Errorf("%s does not leave the choice", k)
		}
	}
}

// The dialog about walking time keeps rule, fitness and rests; what does not belong to the
// rule is grey, and rests that are no number stay to be mended.
func TestWalkingTimeDialog(t *testing.T) {
	x := stand(t, "")
	x.AskTiming()
	_, ok := uitest.Find[*widgets.Select](x.w, pace.NaismithMetric.Words())
	fitness, ok2 := uitest.Find[*widgets.Select](x.w, "not used")
	load, ok3 := uitest.Find[*widgets.Check](x.w, "20 kg each")
	if !ok || !ok2 || !ok3 {
		t.Fatalf("the dialog shows %q", x.words())
	}
	if !load.Disabled() || fitness.Disabled() {
		t.Error("a load without a fitness can be ticked, or a fitness cannot be chosen")
	}
	fitness.SetSelected("25 min")
	load.SetChecked(true)
	before := x.s.Plan()
	x.w.FocusOn(t, "the rests")
	x.w.Replace("many")
	x.w.Key(fyne.KeyReturn)
	if x.s.Plan() != before || !x.w.Shows("Walking time") {
		t.Error("rests of \"many\" were taken")
	}
	x.w.Replace("7,5")
	x.w.Key(fyne.KeyReturn)
	got := x.s.Plan().Timing
	if got.Fitness != 25 || !got.Load || got.Night || got.RestMinPerHour != 7.5 || got.Method != pace.NaismithMetric || got.Start != before.Timing.Start {
		t.Errorf("kept %+v", got)
	}
	x.AskTiming()
	method, _ := uitest.Find[*widgets.Select](x.w, pace.NaismithMetric.Words())
	fitness, _ = uitest.Find[*widgets.Select](x.w, "25 min")
	if method.SetSelected(pace.Tobler.Words()); fitness == nil || !fitness.Disabled() {
		t.Error("Tranter's table is offered with Tobler's function")
	}
	x.w.FocusOn(t, "the rests")
	x.w.Key(fyne.KeyReturn)
	if got := x.s.Plan().Timing; got.Method != pace.Tobler || got.UsesTranter() {
		t.Errorf("kept %+v", got)
	}
}

// In a low window the field for the start is scrolled into sight with the keys.
func TestTheStartComesIntoSight(t *testing.T) {
	x := stand(t, "")
	x.w.Resize(fyne.NewSize(328, 300))
	x.FocusStart()
	f, ok := x.w.Canvas().Focused().(fyne.CanvasObject)
	if !ok {
		t.Fatal("nothing has the keys")
	}
	at, high := fyne.CurrentApp().Driver().AbsolutePositionForObject(f), float32(300)
	if at.Y+f.Size().Height > high || at.Y < high/2 {
		t.Errorf("the field is at %v, %v high, in a panel from %v to %v", at, f.Size().Height, high/2, high)
	}
}
