package teachpanel_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/caution"
	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/view"
)

// pair are marks seen from two. Worked by hand: from Stell Cairn lies 1000 m east and 1000
// m north, 045°; from Fold 1000 m west and 1000 m north, 315°. Hut lies on the first line
// alone, 500 m each way.
var pair = []spot{{"Hut", 150, 150}, {"Cairn", 200, 100}, {"Stell", 100, 200}, {"Fold", 300, 200}}

// meeting is a panel at the job of two people, with marks.
func meeting(t *testing.T, marks ...spot) *stood {
	t.Helper()
	x := looking(t, marks...)
	x.Choose(teachpanel.TwoPeople)
	x.view.Focus()
	x.Drain()
	return x
}

// fieldOf gives the keys to a field of the first or second person by Tab, and returns it.
func (x *stood) fieldOf(t *testing.T, person int, name string) *widgets.EditField {
	t.Helper()
	x.FocusOn(t, name)
	first, _ := x.Canvas().Focused().(*widgets.EditField)
	for n := 0; person > 0; n++ {
		x.Canvas().FocusNext()
		f, ok := x.Canvas().Focused().(*widgets.EditField)
		if ok && f != first && f.PlaceHolder == name {
			return f
		}
		if n > 100 {
			t.Fatalf("Tab leads to no field %q of the second person", name)
		}
	}
	return first
}

// tell types what a person says.
func (x *stood) tell(t *testing.T, person int, name, text string) {
	t.Helper()
	x.fieldOf(t, person, name)
	x.Replace(text)
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
}

// meets fails the test unless the panel says and draws what teach.SameFeature answers.
func (x *stood) meets(t *testing.T, what string, a, b teach.Sighting, extra ...teach.Feature) teach.Meeting {
	t.Helper()
	x.Drain()
	a.Who, b.Who = "the first person", "the second person"
	want, err := teach.SameFeature(x.s.Reader(), a, b, nil, extra...)
	must(t, err)
	x.says(t, want.Text)
	var names []string
	fitting := map[string]string{}
	for _, f := range want.Fits {
		names = append(names, f.Name)
		fitting[f.Name] = f.Verdict.String()
	}
	order, says := x.rows(names...)
	if !slices.Equal(order, names) {
		t.Errorf("%s: listed %q, want %q", what, order, names)
	}
	for name, verdict := range fitting {
		if verdict != teach.NoVerdict.String() && !strings.Contains(says[name], verdict) {
			t.Errorf("%s: %s has %q, want %q", what, name, says[name], verdict)
		}
	}
	l := x.view.Scene().Lesson
	if len(l.Rays) != 2 || l.Rays[0].Second || !l.Rays[1].Second {
		t.Fatalf("%s: %d rays are drawn, want those of both", what, len(l.Rays))
	}
	for i, s := range [2]teach.Sighting{a, b} {
		x.drawnFrom(t, what, l.Rays[i], s.From, s.Bearing, want.Rays[i], want.Half[i])
	}
	if (len(l.Crossings) == 1) != (want.Crossing != nil) {
		t.Errorf("%s: %d crossings are drawn, want %v", what, len(l.Crossings), want.Crossing)
	}
	return want
}

// sighted is what somebody says from a mark, by its place in the plan.
func (x *stood) sighted(mark int, b teach.Bearing) teach.Sighting {
	return teach.Sighting{From: x.s.Plan().Marks[mark].Position, Bearing: b, Tolerance: units.Degrees(5)}
}

// Two positions by clicks, two bearings typed: the lines cross at Cairn, whose pixel is
// known by hand, and Hut fits the first alone.
func TestTwoWhoMeanTheSame(t *testing.T) {
	x := meeting(t, pair...)
	x.says(t, "First person: click where they stand")
	x.click(100, 200)
	x.says(t, "First person: turn the dial")
	x.tell(t, 0, bearingField, "045 grid")
	x.says(t, "Second person: click where they stand")
	x.click(300, 200)
	x.says(t, "Second person: turn the dial")
	x.tell(t, 1, bearingField, "315 grid")
	m := x.meets(t, "045 and 315", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	if m.Verdict != teach.Likely || m.Fits[0].Name != "Cairn" || m.Fits[0].Verdict != teach.Likely {
		t.Errorf("%s, first %+v", m.Verdict, m.Fits[0])
	}
	for _, f := range m.Fits {
		if f.Name == "Hut" && (f.Each != [2]teach.Verdict{teach.Likely, teach.Cannot} || f.Verdict != teach.Cannot) {
			t.Errorf("Hut: %+v", f)
		}
	}
	if c := x.view.Scene().Lesson.Crossings; len(c) == 1 && (math.Hypot(c[0].At.X-200, c[0].At.Y-100) > 1 || !strings.HasPrefix(c[0].Text, "± ")) {
		t.Errorf("the lines cross at %v, %q", c[0].At, c[0].Text)
	}
	x.Tap(t, "Hut")
	x.says(t, "first: on the bearing · second: ")
}

// The same by keys alone: P, marks typed, T and the arrows of the dial.
func TestTwoByKeys(t *testing.T) {
	x := meeting(t, pair...)
	x.tell(t, 0, fromField, "Stell")
	x.tell(t, 1, fromField, "Fold")
	x.Type("pt")
	for range 45 {
		x.Window.Key(fyne.KeyRight)
	}
	x.Window.Key(fyne.KeyReturn)
	x.Type("pt")
	for range 45 {
		x.Window.Key(fyne.KeyLeft)
	}
	x.Window.Key(fyne.KeyReturn)
	x.meets(t, "by keys", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	x.Window.Key(fyne.KeyPageDown)
	x.says(t, "first: on the bearing · second: on the bearing")
	x.Type("pf")
	x.click(100, 250)
	here := x.sighted(2, grid(45))
	here.From = x.positionAt(t, 100, 250)
	x.meets(t, "P, F and a click", here, x.sighted(3, grid(315)))
}

// A bearing that is typed takes the dial, which never shows one person's figure as that of
// the other: what is turned next is the bearing typed last.
func TestATypedBearingTakesTheDial(t *testing.T) {
	x := meeting(t, pair...)
	x.tell(t, 0, fromField, "Stell")
	x.tell(t, 1, fromField, "Fold")
	x.tell(t, 1, bearingField, "315 grid")
	x.tell(t, 0, bearingField, "044 grid")
	x.view.Focus()
	x.Type("t")
	x.Window.Key(fyne.KeyRight)
	x.meets(t, "the first after typing for him", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	x.tell(t, 1, bearingField, "314 grid")
	x.view.Focus()
	x.Type("t")
	x.Window.Key(fyne.KeyRight)
	x.meets(t, "the second after typing for him", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
}

// And by the mouse: heads choose whose the dial is, which turns by hand and by wheel.
func TestTwoByMouse(t *testing.T) {
	x := meeting(t, pair...)
	x.click(100, 200)
	x.click(300, 200)
	wheel := func(notches float32) {
		x.dial.Ring().(fyne.Scrollable).Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25*notches)})
	}
	x.Tap(t, "First person")
	wheel(45)
	x.Tap(t, "Second person")
	wheel(-45)
	x.meets(t, "by wheel", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	x.Tap(t, "First person")
	if at, _ := x.dial.Turned(); math.Abs(at.Deg()-45) > 1e-9 {
		t.Errorf("the first person's dial is at %.1f°", at.Deg())
	}
	ring := uitest.NewMouse(x.dial.Ring())
	half := float64(x.dial.Ring().Size().Width) / 2
	ring.Move(half, 0.2*half)
	ring.Press()
	ring.Move(half-0.8*half, half) // a quarter anticlockwise: the figure rises
	ring.Release()
	x.Drain()
	at, _ := x.dial.Turned()
	if math.Abs(at.Deg()-135) > 2 {
		t.Errorf("a quarter by hand leads from 045° to %.1f°", at.Deg())
	}
	x.meets(t, "by hand", x.sighted(2, teach.Bearing{Angle: at, North: units.GridNorth}), x.sighted(3, grid(315)))
}

// Lines that run apart, or cross behind somebody, are not of one feature; both from one
// place show no crossing.
func TestTwoWhoCannotMeanTheSame(t *testing.T) {
	x := meeting(t, pair...)
	x.click(100, 200)
	x.click(300, 200)
	for _, c := range []struct {
		name    string
		a, b    string
		first   float64
		second  float64
		verdict teach.Verdict
	}{
		{"apart", "315 grid", "045 grid", 315, 45, teach.Cannot},
		{"behind the second", "045 grid", "135 grid", 45, 135, teach.Cannot},
		{"side by side", "000 grid", "001 grid", 0, 1, teach.Likely},
	} {
		x.tell(t, 0, bearingField, c.a)
		x.tell(t, 1, bearingField, c.b)
		m := x.meets(t, c.name, x.sighted(2, grid(c.first)), x.sighted(3, grid(c.second)))
		if m.Verdict != c.verdict || m.Crossing != nil {
			t.Errorf("%s: %s, crossing %v", c.name, m.Verdict, m.Crossing)
		}
	}
	x.tell(t, 0, fromField, "Fold")
	x.tell(t, 0, bearingField, "010 grid")
	m := x.meets(t, "at one place", x.sighted(3, grid(10)), x.sighted(3, grid(1)))
	if m.Crossing != nil {
		t.Error("lines from one place cross")
	}
}

// Each person's bad input is refused with the field kept, and a north that was not said is
// asked of the one who did not say it.
func TestBadInputOfTwo(t *testing.T) {
	x := meeting(t, pair...)
	x.click(100, 200)
	x.click(300, 200)
	x.tell(t, 0, bearingField, "045 grid")
	x.tell(t, 1, bearingField, "315 grid")
	for person := range 2 {
		for _, bad := range []struct{ field, text string }{
			{bearingField, "400"}, {bearingField, "-1"}, {bearingField, "there"}, {fromField, "nowhere at all"}, {fromField, "NL 2"},
		} {
			f := x.fieldOf(t, person, bad.field)
			x.Replace(bad.text)
			x.Window.Key(fyne.KeyReturn)
			if !x.line.Failed() || f.Text != bad.text {
				t.Errorf("person %d, %q: %q, the field has %q", person+1, bad.text, x.line.Message(), f.Text)
			}
			x.Window.Key(fyne.KeyEscape)
		}
	}
	x.meets(t, "after all refusals", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	for person, who := range []string{"First person: ", "Second person: "} {
		x.tell(t, person, bearingField, "045")
		x.says(t, who+"045° from which north?")
		x.hush(t, "likely", "ruled out", "same feature")
		x.Tap(t, "magnetic")
		x.hush(t, "from which north?")
	}
	x.meets(t, "both magnetic", x.sighted(2, magnetic(45)), x.sighted(3, magnetic(45)))
	x.enter(t, toleranceField, "0")
	if !x.line.Failed() {
		t.Errorf("± 0: %q", x.line.Message())
	}
	x.Window.Key(fyne.KeyEscape)
	x.enter(t, toleranceField, "90")
	wide := [2]teach.Sighting{x.sighted(2, magnetic(45)), x.sighted(3, magnetic(45))}
	wide[0].Tolerance, wide[1].Tolerance = units.Degrees(90), units.Degrees(90)
	x.meets(t, "± 90", wide[0], wide[1])
}

// A feature that is no mark is compared with both from its click.
func TestAFeatureOfTwo(t *testing.T) {
	x := meeting(t, pair...)
	before := x.s.Plan()
	x.click(100, 200)
	x.click(300, 200)
	x.tell(t, 0, bearingField, "045 grid")
	x.tell(t, 1, bearingField, "315 grid")
	x.click(203, 98)
	wall := teach.Feature{Name: "feature 1", Position: x.positionAt(t, 203, 98)}
	m := x.meets(t, "with a feature", x.sighted(2, grid(45)), x.sighted(3, grid(315)), wall)
	if len(m.Fits) != 5 || m.Fits[1].Name != wall.Name || m.Fits[1].Verdict != teach.Likely {
		t.Errorf("got %+v", m.Fits)
	}
	x.view.Focus()
	x.Window.Key(fyne.KeyDelete)
	x.meets(t, "after Delete", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	if x.s.Plan() != before {
		t.Error("features of a lesson changed the plan")
	}
}

// Without marks the lines are compared alone; somebody off the sheet is named.
func TestTwoWithoutMarks(t *testing.T) {
	x := meeting(t)
	x.tell(t, 0, fromField, "NL 1900 4200")
	x.tell(t, 1, fromField, "NL 2300 4200")
	x.tell(t, 0, bearingField, "045 grid")
	x.tell(t, 1, bearingField, "315 grid")
	x.says(t, "There is nothing to compare yet", "NL 1900 4200 is off this sheet", "You may mean the same feature")
}

// An unchecked sheet is a note. Without its calibration there is a stop: no verdict on the
// two, nor on any mark.
func TestNoVerdictOnTwoWithoutCalibration(t *testing.T) {
	x := meeting(t, pair...)
	x.click(100, 200)
	x.click(300, 200)
	x.tell(t, 0, bearingField, "045 grid")
	x.tell(t, 1, bearingField, "315 grid")
	x.says(t, caution.Of(caution.Unchecked).Text())
	x.hush(t, "STOP")
	for range 4 {
		must(t, x.s.RemoveControlPoint(0))
	}
	x.Drain()
	x.says(t, "STOP", caution.Of(caution.Uncalibrated).Text(), "cannot be judged")
	x.hush(t, "likely", "possible", "ruled out", "can mean the same", "Not the same", "fits")
	if l := x.view.Scene().Lesson; len(l.Rays)+len(l.Crossings) != 0 {
		t.Errorf("drawn are %d rays and %d crossings", len(l.Rays), len(l.Crossings))
	}
}

// Hidden figures stand neither on the panel nor on the sheet.
func TestHiddenPair(t *testing.T) {
	x := meeting(t, pair...)
	x.click(100, 200)
	x.click(300, 200)
	x.tell(t, 0, bearingField, "045 grid")
	x.tell(t, 1, bearingField, "315 grid")
	x.Type("h")
	x.Drain()
	x.hush(t, "045", "315", "Cairn", "same feature", "°")
	if l := x.view.Scene().Lesson; !l.Empty() {
		t.Errorf("drawn is %+v", l)
	}
	x.Type("h")
	x.meets(t, "shown again", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
}

// Both say all of it without leaving the keys: Return goes on to the next field that is
// empty, and from the last one to the sheet, where a digit begins the bearing of who is
// chosen anew.
func TestReturnGoesOnThroughTwo(t *testing.T) {
	x := meeting(t, pair...)
	x.fieldOf(t, 0, fromField)
	for _, text := range []string{"Stell", "044 grid", "Fold", "314 grid"} {
		x.Type(text)
		x.Window.Key(fyne.KeyReturn)
		x.Drain()
	}
	x.meets(t, "typed in a row", x.sighted(2, grid(44)), x.sighted(3, grid(314)))
	x.Type("315 grid")
	x.Window.Key(fyne.KeyReturn)
	x.Type("p045 grid")
	x.Window.Key(fyne.KeyReturn)
	x.meets(t, "typed again", x.sighted(2, grid(45)), x.sighted(3, grid(315)))
	if n := len(x.view.Scene().Lesson.Features); n != len(pair)+2-2 {
		t.Errorf("%d features are drawn: typing has set some", n)
	}
}

// The fields stay where they are whatever the sentence says, and the list that is clicked
// at becomes no higher again while a dial turns.
func TestFieldsOfTwoStay(t *testing.T) {
	x := meeting(t, pair...)
	x.tell(t, 0, fromField, "Stell")
	at := x.place(x.fieldOf(t, 1, bearingField))
	x.tell(t, 1, fromField, "Fold")
	x.tell(t, 0, bearingField, "044 grid")
	for deg := range 72 {
		x.tell(t, 1, bearingField, fmt.Sprintf("%03d grid", 5*deg))
		if got := x.place(x.fieldOf(t, 1, bearingField)); got != at {
			t.Fatalf("%03d grid: the field goes from %v to %v", 5*deg, at, got)
		}
	}
}

// Where the lines cross is brought into sight once the bearings stand, typed or turned by
// hand, but not while the hand turns.
func TestCrossingIsBroughtIntoSight(t *testing.T) {
	x := meeting(t, pair...)
	x.tell(t, 0, fromField, "Stell")
	x.tell(t, 1, fromField, "Fold")
	x.tell(t, 0, bearingField, "030 grid") // with 330° from Fold they cross at 200, 27
	near := func() {
		x.view.Area().Fit()
		x.view.Area().PanBy(0, -200)
	}
	crossing := view.PicPt{X: 200, Y: 200 - 100*math.Sqrt(3)}
	if near(); x.view.InView(crossing) {
		t.Fatal("the crossing is in sight already")
	}
	x.tell(t, 1, bearingField, "330 grid")
	if x.Drain(); !x.view.InView(crossing) || !x.view.InView(view.PicPt{X: 100, Y: 200}) || !x.view.InView(view.PicPt{X: 300, Y: 200}) {
		t.Error("typed: the crossing, or one of the two, is not in sight")
	}
	near()
	ring := uitest.NewMouse(x.dial.Ring())
	half := float64(x.dial.Ring().Size().Width) / 2
	ring.Move(half, 0.2*half)
	ring.Press()
	ring.Move(half+0.05*half, 0.2*half)
	if x.Drain(); x.view.InView(crossing) {
		t.Error("the sheet moves while the hand turns the ring")
	}
	ring.Release()
	if at, _ := x.dial.Turned(); at == units.Degrees(330) {
		t.Fatal("the hand turned nothing")
	}
	x.Drain()
	if c := x.view.Scene().Lesson.Crossings; len(c) != 1 || !x.view.InView(c[0].At) {
		t.Error("the hand left the ring, and the crossing is not in sight")
	}
}

// F asks for the click in the words of the job: of two people it is not you who stands there.
func TestWhoIsToBeClicked(t *testing.T) {
	x := stand(t)
	for job, want := range map[teachpanel.Job]string{teachpanel.Identify: "Click on the sheet where you stand.", teachpanel.TwoPeople: "Click on the sheet where this person stands."} {
		x.Choose(job)
		x.Type("f")
		if got := x.line.Message(); got != want {
			t.Errorf("job %d: F says %q, want %q", job, got, want)
		}
	}
}
