package teachpanel_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/teachpanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// The fields by what they show while they are empty.
const (
	fromField      = "a mark or a reference"
	bearingField   = "060 grid"
	toleranceField = "± 5°"
)

// spot is a mark by its name, in pixels of the picture: 10 m each, grid north up.
type spot struct {
	name     string
	col, row float64
}

// round are marks round Stell. Seen from there, worked by hand: Cairn lies 870 m east and
// 500 m north, atan2(870, 500) = 60.1°; Tarn 900 and 400, 66.0°; Hut 400 and 910, 23.7°;
// Fold 870 west and 500 south, 240.1°.
var round = []spot{{"Fold", 13, 250}, {"Hut", 140, 109}, {"Tarn", 190, 160}, {"Cairn", 187, 150}, {"Stell", 100, 200}}

// looking is a panel at the job of what lies on a bearing, with marks.
func looking(t *testing.T, marks ...spot) *stood {
	t.Helper()
	x := stand(t)
	x.marks(t, marks...)
	x.Choose(teachpanel.Identify)
	x.view.Focus()
	x.Drain()
	return x
}

// marks sets marks at points of the picture.
func (x *stood) marks(t *testing.T, list ...spot) {
	t.Helper()
	for _, m := range list {
		_, err := x.s.AddMark(m.name, x.positionAt(t, m.col, m.row))
		must(t, err)
	}
	x.s.Select("")
	x.Drain()
}

// positionAt is the position at a point of the picture.
func (x *stood) positionAt(t *testing.T, col, row float64) plan.Position {
	t.Helper()
	pos, err := x.view.PositionAt(view.PicPt{X: col, Y: row})
	must(t, err)
	return pos
}

// click clicks on a point of the picture.
func (x *stood) click(col, row float64) {
	x.to(col, row)
	x.Click()
	x.Drain()
}

// enter types into a field over what it has, and presses Return.
func (x *stood) enter(t *testing.T, field, text string) {
	t.Helper()
	x.FocusOn(t, field)
	x.Replace(text)
	x.Window.Key(fyne.KeyReturn)
	x.Drain()
}

// field is what a field holds.
func (x *stood) field(t *testing.T, name string) string {
	t.Helper()
	f, ok := uitest.Find[*widgets.EditField](x.Window, name)
	if !ok {
		t.Fatalf("there is no field %q", name)
	}
	return f.Text
}

// rows are the listed marks and features from above, each with all that its row says. A
// row says its name twice: once for those who read it aloud.
func (x *stood) rows(names ...string) (order []string, says map[string]string) {
	says = map[string]string{}
	texts, now := x.Texts(), ""
	for i, text := range texts {
		if i > 0 && texts[i-1] == text && slices.Contains(append(names, "none of these"), text) {
			now = text
			order = append(order, text)
		} else if now != "" {
			says[now] += text + " "
		}
	}
	return order, says
}

// drawn is the fit of each mark and feature that is drawn, but for where people stand.
func (x *stood) drawn(people int) []overlay.Fit {
	var out []overlay.Fit
	for _, f := range x.view.Scene().Lesson.Features[people:] {
		out = append(out, f.Fit)
	}
	return out
}

var fits = map[teach.Verdict]overlay.Fit{
	teach.Likely: overlay.FitsWell, teach.Possible: overlay.FitsBarely, teach.Cannot: overlay.CannotFit, teach.NoVerdict: overlay.NotJudged,
}

// agrees fails the test unless list and sheet show what teach.Identify answers, in its
// order: each verdict, the ray and its wedge.
func (x *stood) agrees(t *testing.T, what string, from plan.Position, b teach.Bearing, halfDeg float64, extra ...teach.Feature) teach.Answer {
	t.Helper()
	x.Drain()
	var training *units.GMA
	if g, ok := x.lesson.Training(); ok {
		training = &g
	}
	want, err := teach.Identify(x.s.Reader(), from, b, units.Degrees(halfDeg), training, extra...)
	must(t, err)
	var names []string
	var fitting []overlay.Fit
	for _, c := range want.Candidates {
		names = append(names, c.Name)
		if c.Verdict != teach.NoVerdict || c.ID == "" {
			fitting = append(fitting, fits[c.Verdict])
		}
	}
	order, says := x.rows(names...)
	if !want.Stopped && len(names) > 0 {
		names = append(names, "none of these")
	}
	if !slices.Equal(order, names) {
		t.Errorf("%s: listed %q, want %q", what, order, names)
	}
	for _, c := range want.Candidates {
		if word := c.Verdict.String(); c.Verdict != teach.NoVerdict && !strings.Contains(says[c.Name], word+" · ") {
			t.Errorf("%s: %s has %q, want %q", what, c.Name, says[c.Name], word)
		}
	}
	if got := x.drawn(1); !slices.Equal(got, fitting) {
		t.Errorf("%s: drawn as %v, want %v", what, got, fitting)
	}
	x.rayIs(t, what, from, want)
	return want
}

// rayIs fails the test unless the one ray that is drawn is that of an answer.
func (x *stood) rayIs(t *testing.T, what string, from plan.Position, a teach.Answer) {
	t.Helper()
	rays := x.view.Scene().Lesson.Rays
	if len(rays) != 1 {
		t.Fatalf("%s: %d rays are drawn, want one", what, len(rays))
	}
	x.drawnFrom(t, what, rays[0], from, a.Bearing, a.Ray, a.Half)
}

// drawnFrom fails the test unless a ray is drawn with its wedge from a position, to the
// pixel that a click can mean, and named by its bearing.
func (x *stood) drawnFrom(t *testing.T, what string, got overlay.Ray, from plan.Position, said teach.Bearing, bearing units.GridBearing, half units.Angle) {
	t.Helper()
	k, _ := x.view.Sketch()
	at, _ := k.Position(from)
	want := k.Ray(got.From, bearing, half)
	want.Second, want.Label = got.Second, said.North.Figure(x.s.Plan().Party.Compass.Circle, said.Angle)
	if at.Dist(got.From) > 1 || !reflect.DeepEqual(got, want) {
		t.Errorf("%s: drawn is the ray %s from %v, want %s ± %.2f° from %v", what, got.Label, got.From, want.Label, half.Deg(), at)
	}
}

func grid(deg float64) teach.Bearing {
	return teach.Bearing{Angle: units.Degrees(deg), North: units.GridNorth}
}

func magnetic(deg float64) teach.Bearing {
	return teach.Bearing{Angle: units.Degrees(deg), North: units.MagneticNorth}
}

// The whole job: a click says where one stands, the list tells how all lies from there,
// and a bearing judges it. The verdicts are worked by hand: σ is 2.5° of the compass and a
// little of the positions, so 6° off is outside 2 σ and within 3 σ.
func TestWhatLiesOnABearing(t *testing.T) {
	x := looking(t, round...)
	x.says(t, "Click on the sheet where you stand")
	x.click(100, 200)
	if got := x.field(t, fromField); got != "Stell" {
		t.Errorf("a click on a mark stands at %q", got)
	}
	if _, says := x.rows("Cairn", "Hut", "Stell"); !strings.Contains(says["Cairn"], "060° grid") || !strings.Contains(says["Hut"], "024° grid") || !strings.Contains(says["Stell"], "where you stand") {
		t.Errorf("before there is a ray the list says %q", says)
	}
	if l := x.view.Scene().Lesson; len(l.Rays) != 0 || len(l.Features) != 1 {
		t.Errorf("before there is a ray %d of them and %d features are drawn", len(l.Rays), len(l.Features))
	}
	x.enter(t, bearingField, "060 grid")
	a := x.agrees(t, "060 grid", x.s.Plan().Marks[4].Position, grid(60), 5)
	byHand := map[string]teach.Verdict{"Cairn": teach.Likely, "Tarn": teach.Possible, "Hut": teach.Cannot, "Fold": teach.Cannot, "Stell": teach.NoVerdict}
	for _, c := range a.Candidates {
		if c.Verdict != byHand[c.Name] {
			t.Errorf("%s is %s, by hand %s", c.Name, c.Verdict, byHand[c.Name])
		}
	}
	x.says(t, "Cairn fits best, but Tarn could be the feature too")
	x.enter(t, bearingField, "")
	if len(x.view.Scene().Lesson.Rays) != 0 {
		t.Error("an emptied field leaves its ray")
	}
}

// Where one stands is clicked, typed as a mark or as a reference, or taken away.
func TestWhereOneStands(t *testing.T) {
	x := looking(t, round...)
	x.enter(t, bearingField, "060 grid")
	x.says(t, "Click on the sheet where you stand")
	x.enter(t, fromField, "stell")
	x.agrees(t, "typed as a mark", x.s.Plan().Marks[4].Position, grid(60), 5)
	x.enter(t, fromField, "NL 2100 4200")
	typed, err := x.s.ParsePosition("NL 2100 4200")
	must(t, err)
	x.agrees(t, "typed as a reference", typed, grid(60), 5)
	x.Type("f")
	x.click(60, 260)
	if got := x.field(t, fromField); !strings.HasPrefix(got, "NL 206 413") && !strings.HasPrefix(got, "NL 20") {
		t.Errorf("F and a click stand at %q", got)
	}
	x.agrees(t, "F and a click", x.positionAt(t, 60, 260), grid(60), 5)
	x.Tap(t, "Click on the sheet where you stand")
	x.click(250, 100)
	if at := x.view.Scene().Lesson.Features[0].At; math.Hypot(at.X-250, at.Y-100) > 1 {
		t.Errorf("the button and a click stand at %v", at)
	}
	x.enter(t, fromField, "nowhere at all")
	if !x.line.Failed() || x.field(t, fromField) != "nowhere at all" || len(x.view.Scene().Lesson.Rays) != 1 {
		t.Errorf("an unknown mark: %q, the field has %q", x.line.Message(), x.field(t, fromField))
	}
	x.Window.Key(fyne.KeyEscape)
	x.enter(t, fromField, "")
	if len(x.view.Scene().Lesson.Features) != 0 {
		t.Error("an emptied field leaves somebody standing")
	}
}

// A position that was typed is brought into sight.
func TestTypedPositionIsBroughtIntoSight(t *testing.T) {
	x := looking(t, round...)
	stell := view.PicPt{X: 100, Y: 200}
	x.view.Area().Fit()
	x.view.Area().PanBy(-400, 0)
	if x.Drain(); x.view.InView(stell) {
		t.Fatal("the mark is in sight already")
	}
	x.enter(t, fromField, "Stell")
	if !x.view.InView(stell) {
		t.Error("the mark is not in sight")
	}
}

// The ray follows the ring of the dial by mouse, by wheel and by keys, with each verdict.
func TestTheRayFollowsTheDial(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	from := x.s.Plan().Marks[4].Position
	last := ""
	follows := func(what string, around func(float64) bool) {
		t.Helper()
		x.Drain()
		now, on := x.dial.Turned()
		text := units.GridNorth.Figure(units.WholeDegrees, now)
		if !on || !around(now.Deg()) || x.field(t, bearingField) != text || text == last {
			t.Errorf("%s: the dial is at %.1f°, the field has %q after %q", what, now.Deg(), x.field(t, bearingField), last)
		}
		last = text
		x.agrees(t, what, from, teach.Bearing{Angle: now, North: units.GridNorth}, 5)
	}
	ring := uitest.NewMouse(x.dial.Ring())
	half := float64(x.dial.Ring().Size().Width) / 2
	hand := func(deg float64) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		ring.Move(half+0.8*half*sin, half-0.8*half*cos)
	}
	hand(0)
	ring.Press()
	for deg := 0.0; deg >= -60; deg -= 5 {
		hand(deg)
		if deg == -30 {
			follows("half-way with the mouse", func(d float64) bool { return math.Abs(d-30) < 2 })
		}
	}
	ring.Release()
	follows("by mouse", func(d float64) bool { return math.Abs(d-60) < 2 })
	before, _ := x.dial.Turned()
	x.dial.Ring().(fyne.Scrollable).Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 75)})
	follows("by wheel", func(d float64) bool { return math.Abs(d-before.Deg()-3) < 1e-9 })
	x.view.Focus()
	x.Type("t")
	x.Window.Key(fyne.KeyHome)
	for range 24 {
		x.Window.Key(fyne.KeyRight)
	}
	follows("by keys", func(d float64) bool { return math.Abs(d-24) < 1e-9 })
	x.says(t, "Of these only Hut fits")
	x.Window.Key(fyne.KeyReturn)
	if x.Canvas().Focused() != fyne.Focusable(x.view.Area()) {
		t.Errorf("Return leaves the keys with %T", x.Canvas().Focused())
	}
	x.Tap(t, "Turn the bearing on the dial")
	x.Window.Key(fyne.KeyLeft)
	follows("by the button and a key", func(d float64) bool { return math.Abs(d-23) < 1e-9 })
}

// A bearing from magnetic north lies on the grid by the GMA there, or by the one that the
// lesson declares.
func TestARayFromMagneticNorth(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	from := x.s.Plan().Marks[4].Position
	x.enter(t, bearingField, "60 mag")
	a := x.agrees(t, "60 mag", from, magnetic(60), 5)
	if off := math.Abs((a.Ray.Angle() - units.Degrees(60)).Signed().Deg()); off < 1 || off > 5 {
		t.Fatalf("the ray lies %.2f° from 060° grid: the test tries nothing", off)
	}
	x.lesson.SetTraining(units.GMA(units.Degrees(12)))
	x.enter(t, bearingField, "48 mag")
	a = x.agrees(t, "a training GMA of 12° east", from, magnetic(48), 5)
	if c := a.Candidates[0]; c.Name != "Cairn" || c.Verdict != teach.Likely || math.Abs(a.Ray.Angle().Deg()-60) > 1e-6 {
		t.Errorf("048° mag under 12° east is %.2f° grid, first %s", a.Ray.Angle().Deg(), c.Name)
	}
	if x.view.Scene().Lesson.Watermark == "" {
		t.Error("nothing on the sheet says that the GMA is for training")
	}
}

// A bearing without its north is no ray: the panel asks, and each answer counts.
func TestWhichNorth(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	for _, c := range []struct {
		answer string
		north  units.North
	}{{"grid", units.GridNorth}, {"magnetic", units.MagneticNorth}, {"true", units.TrueNorth}} {
		x.enter(t, bearingField, "060")
		x.says(t, "060° from which north?", "which north?")
		x.hush(t, "likely", "ruled out", "%")
		if l := x.view.Scene().Lesson; len(l.Rays) != 0 {
			t.Error("a bearing without a north has a ray")
		}
		x.Tap(t, c.answer)
		x.hush(t, "which north?")
		x.agrees(t, c.answer, x.s.Plan().Marks[4].Position, teach.Bearing{Angle: units.Degrees(60), North: c.north}, 5)
	}
}

// What can be no bearing is refused in a sentence; the field keeps it for mending, and the
// ray before stays. 360 is north.
func TestBadBearings(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	for _, text := range []string{"400", "-1", "361 grid", "north-east", "060 grid mag", "0x10 grid"} {
		x.enter(t, bearingField, text)
		if rays := x.view.Scene().Lesson.Rays; !x.line.Failed() || x.field(t, bearingField) != text || len(rays) != 1 || rays[0].Label != "060° grid" {
			t.Errorf("%q: %q, the field has %q, %d rays", text, x.line.Message(), x.field(t, bearingField), len(rays))
		}
		x.Window.Key(fyne.KeyEscape)
	}
	x.enter(t, bearingField, "360 grid")
	if got := x.field(t, bearingField); got != "000° grid" {
		t.Errorf("360 grid is %q", got)
	}
	x.agrees(t, "360 grid", x.s.Plan().Marks[4].Position, grid(0), 5)
}

// The tolerance widens the wedge and the verdicts; what no compass has is refused.
func TestToleranceOfTheRay(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	from := x.s.Plan().Marks[4].Position
	for _, c := range []struct {
		text string
		deg  float64 // 0: refused
	}{{"10", 10}, {"0", 0}, {"0.4", 0}, {"90.5", 0}, {"-5", 0}, {"wide", 0}, {"90", 90}, {"± 0,5°", 0.5}, {"", 5}} {
		was := x.view.Scene().Lesson.Rays
		x.enter(t, toleranceField, c.text)
		if c.deg > 0 {
			x.agrees(t, "± "+c.text, from, grid(60), c.deg)
			continue
		}
		if !x.line.Failed() || x.field(t, toleranceField) != c.text || !reflect.DeepEqual(was, x.view.Scene().Lesson.Rays) {
			t.Errorf("%q: %q, the field has %q", c.text, x.line.Message(), x.field(t, toleranceField))
		}
		x.Window.Key(fyne.KeyEscape)
	}
}

// Who has a compass in mils types the ± in mils, and reads it so.
func TestToleranceInTheUnitsOfTheCompass(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	from := x.s.Plan().Marks[4].Position
	for _, c := range []struct {
		circle      units.Circle
		text, shows string
		deg         float64
	}{
		{units.Mils6400, "160", "± 160 mil", 9},
		{units.Mils6400, "5°", "± 89 mil", 5},
		{units.Gon400, "10", "± 10 gon", 9},
		{units.HalfDegrees, "", "± 5°", 5},
	} {
		party := x.s.Plan().Party
		party.Compass.Circle = c.circle
		if err := x.s.SetParty(party); err != nil {
			t.Fatal(err)
		}
		x.enter(t, toleranceField, c.text)
		if got := x.field(t, toleranceField); got != c.shows {
			t.Errorf("%v: %q shows %q, want %q", c.circle, c.text, got, c.shows)
		}
		x.agrees(t, c.text, from, grid(60), c.deg)
	}
	x.enter(t, toleranceField, "10")
	party := x.s.Plan().Party
	party.Compass.Circle = units.Mils6400
	if err := x.s.SetParty(party); err != nil || x.field(t, toleranceField) != "± 178 mil" {
		t.Errorf("another compass: %v, the field has %q", err, x.field(t, toleranceField))
	}
}

// A row, a mark on the sheet and the keys choose, and what is chosen has its sentence.
func TestTheChosenRow(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	a := x.agrees(t, "060 grid", x.s.Plan().Marks[4].Position, grid(60), 5)
	chosen := func(how, name string) {
		t.Helper()
		for _, c := range a.Candidates {
			if said := strings.Contains(x.words(), c.Sentence()); said != (c.Name == name) {
				t.Errorf("%s: the sentence of %s is seen: %v", how, c.Name, said)
			}
		}
	}
	chosen("at first", "")
	x.Tap(t, "Tarn")
	chosen("a click on the row", "Tarn")
	x.says(t, "between north and east, nearer east", "24° from east", "ENE")
	x.click(140, 109)
	chosen("a click on the sheet", "Hut")
	x.view.Focus()
	x.Window.Key(fyne.KeyPageUp)
	x.Window.Key(fyne.KeyPageUp)
	chosen("Page Up", a.Candidates[0].Name)
	x.Window.Key(fyne.KeyPageDown)
	chosen("Page Down", a.Candidates[1].Name)
	x.FocusOn(t, "Cairn")
	x.Window.Key(fyne.KeySpace)
	chosen("Space", "Cairn")
	x.Window.Key(fyne.KeyDown)
	chosen("Down", a.Candidates[1].Name)
	x.Window.Key(fyne.KeySpace)
	chosen("Space again", "")
	x.Window.Key(fyne.KeyEscape)
	if x.Canvas().Focused() != fyne.Focusable(x.view.Area()) {
		t.Errorf("Escape leaves the keys with %T", x.Canvas().Focused())
	}
}

// A feature that is no mark is judged with its click, belongs to no plan, and goes with
// Delete. 500 m east and 290 m north are atan2(500, 290) = 59.9°.
func TestAFeatureThatIsNoMark(t *testing.T) {
	x := looking(t, round...)
	before := x.s.Plan()
	x.click(100, 200)
	x.click(150, 171)
	x.says(t, "Feature 1 bears 060° grid")
	x.enter(t, bearingField, "060 grid")
	from, wall := x.s.Plan().Marks[4].Position, teach.Feature{Name: "feature 1", Position: x.positionAt(t, 150, 171)}
	a := x.agrees(t, "one feature", from, grid(60), 5, wall)
	for _, c := range a.Candidates {
		if c.Name == wall.Name && c.Verdict != teach.Likely {
			t.Errorf("by hand the feature is likely, and it is %s", c.Verdict)
		}
	}
	x.says(t, "Cairn and feature 1 fit", "Feature 1 bears 060° grid, on your bearing: it fits.")
	x.click(60, 60)
	corner := teach.Feature{Name: "feature 2", Position: x.positionAt(t, 60, 60)}
	x.agrees(t, "two features", from, grid(60), 5, wall, corner)
	x.view.Focus()
	x.Window.Key(fyne.KeyDelete)
	x.agrees(t, "after Delete", from, grid(60), 5, wall)
	x.FocusOn(t, "feature 1")
	x.Window.Key(fyne.KeyDelete)
	x.agrees(t, "after Delete on the row", from, grid(60), 5)
	x.view.Focus()
	for _, name := range []fyne.KeyName{fyne.KeyDelete, fyne.KeyBackspace} {
		if !x.Panel.Key(&fyne.KeyEvent{Name: name}) {
			t.Errorf("with no feature chosen %s goes on to the plan", name)
		}
	}
	if x.s.Plan() != before {
		t.Error("features of a lesson changed the plan")
	}
}

// None, one, several at one place, and a mark where one stands.
func TestFewMarks(t *testing.T) {
	for _, c := range []struct {
		name  string
		marks []spot
		want  []string
	}{
		{"none", nil, []string{"There is nothing to compare yet"}},
		{"one", []spot{{"Cairn", 187, 150}}, []string{"Of these only Cairn fits"}},
		{"one, and it is no match", []spot{{"Hut", 140, 109}}, []string{"None of these lies on your bearing"}},
		{"behind", []spot{{"Fold", 13, 250}}, []string{"Fold is in the opposite direction"}},
		{"two at one place", []spot{{"Cairn", 187, 150}, {"Kist", 187, 150}}, []string{"cannot tell them apart"}},
		{"where one stands alone", []spot{{"Stell", 100, 200}}, []string{"where you stand", "can be judged"}},
	} {
		x := looking(t, c.marks...)
		x.enter(t, fromField, "NL 2100 4200")
		x.enter(t, bearingField, "060 grid")
		from, err := x.s.ParsePosition("NL 2100 4200")
		must(t, err)
		if c.name == "where one stands alone" {
			x.enter(t, fromField, "Stell")
			from = x.s.Plan().Marks[0].Position
		}
		x.agrees(t, c.name, from, grid(60), 5)
		x.says(t, c.want...)
	}
}

// Off the sheet everything is judged as well, and it is said.
func TestStandingOffTheSheet(t *testing.T) {
	x := looking(t, round...)
	x.enter(t, fromField, "NL 1900 4200") // 2 km west of Stell, beyond the picture's edge
	x.enter(t, bearingField, "090 grid")
	from, err := x.s.ParsePosition("NL 1900 4200")
	must(t, err)
	x.agrees(t, "off the sheet", from, grid(90), 5)
	x.says(t, "NL 1900 4200 is off this sheet")
	x.enter(t, fromField, "Stell")
	x.hush(t, "off this sheet")
}

// An unchecked sheet is a note beside every verdict. Once the calibration is gone there is
// a stop, and no verdict on anything: neither likely nor cannot.
func TestNoVerdictWithoutCalibration(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	x.says(t, caution.Of(caution.Unchecked).Text(), "likely", "ruled out")
	x.hush(t, "STOP")
	for range 4 {
		must(t, x.s.RemoveControlPoint(0))
	}
	x.Drain()
	a, err := teach.Identify(x.s.Reader(), x.s.Plan().Marks[4].Position, grid(60), units.Degrees(5), nil)
	must(t, err)
	if !a.Stopped {
		t.Fatal("without a calibration nothing is stopped: the test tries nothing")
	}
	x.says(t, "STOP", caution.Of(caution.Uncalibrated).Text())
	x.hush(t, "likely", "possible", "ruled out", "%", "none of these", "it fits")
	if l := x.view.Scene().Lesson; len(l.Rays) != 0 {
		t.Errorf("%d rays are drawn on a sheet without calibration", len(l.Rays))
	}
}

// Before a sheet is calibrated the panel says so, and offers what works without it.
func TestLookingWithoutCalibration(t *testing.T) {
	x := stand(t)
	for range 4 {
		must(t, x.s.RemoveControlPoint(0))
	}
	x.Choose(teachpanel.Identify)
	x.says(t, "Calibrate the sheet first", "type where you stand")
	x.click(100, 200)
	if !x.line.Failed() || x.field(t, fromField) != "" {
		t.Errorf("a click stands at %q: %q", x.field(t, fromField), x.line.Message())
	}
}

// Many marks are listed in part until all are asked for; the likeliest are seen.
func TestManyMarks(t *testing.T) {
	x := looking(t)
	for i := range 15 {
		x.marks(t, spot{fmt.Sprintf("Stone %c", 'A'+i), 100 + 10*float64(i), 100})
	}
	x.enter(t, fromField, "NL 2100 4200")
	x.enter(t, bearingField, "000 grid")
	var names []string
	for _, m := range x.s.Plan().Marks {
		names = append(names, m.Name)
	}
	few, _ := x.rows(names...)
	x.Tap(t, "Show all, or only the first few")
	all, _ := x.rows(names...)
	if len(few) >= len(all) || len(all) != len(names)+1 || few[0] != "Stone A" || !slices.Equal(few, all[:len(few)]) {
		t.Errorf("listed %q, then %q", few, all)
	}
}

// Hidden figures stand neither on the panel nor on the sheet.
func TestHiddenRay(t *testing.T) {
	x := looking(t, round...)
	x.click(100, 200)
	x.enter(t, bearingField, "060 grid")
	x.Tap(t, "Cairn")
	x.view.Focus()
	x.Type("h")
	x.Drain()
	x.hush(t, "060", "Cairn", "likely", "°")
	if l := x.view.Scene().Lesson; !l.Empty() {
		t.Errorf("drawn is %+v", l)
	}
	x.Type("h")
	x.agrees(t, "shown again", x.s.Plan().Marks[4].Position, grid(60), 5)
}

// place is where an object stands in the window.
func (x *stood) place(o fyne.CanvasObject) fyne.Position {
	x.Drain()
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// The fields stay where they are whatever the sentence below them says, however long.
func TestFieldsOfTheRayStay(t *testing.T) {
	x := looking(t, round...)
	f, _ := uitest.Find[*widgets.EditField](x.Window, bearingField)
	at, lines := x.place(f), map[string]bool{}
	x.enter(t, fromField, "Stell")
	for deg := range 72 {
		x.enter(t, bearingField, fmt.Sprintf("%03d grid", 5*deg))
		lines[x.words()] = true
		if got := x.place(f); got != at {
			t.Fatalf("%03d grid: the field goes from %v to %v", 5*deg, at, got)
		}
	}
	if len(lines) < 10 {
		t.Errorf("the panel says %d things round the dial: the test tries nothing", len(lines))
	}
}

// Return goes on from the position to the bearing, and then to the sheet, where a digit
// begins the next bearing; no typing sets a feature.
func TestTypedRaysInARow(t *testing.T) {
	x := looking(t, round...)
	from := x.s.Plan().Marks[len(round)-1].Position
	x.FocusOn(t, fromField)
	x.Type("Stell")
	x.Window.Key(fyne.KeyReturn)
	for _, c := range []struct {
		text string
		want teach.Bearing
	}{{"060 grid", grid(60)}, {"152 mag", magnetic(152)}, {"024 grid", grid(24)}} {
		x.Type(c.text)
		x.Window.Key(fyne.KeyReturn)
		x.Drain()
		x.agrees(t, c.text, from, c.want, 5)
	}
	if got := x.Canvas().Focused(); got != fyne.Focusable(x.view.Area()) {
		t.Errorf("after Return the keys are at %T", got)
	}
	before := x.lesson.North()
	if x.Type("n"); x.lesson.North() == before {
		t.Error("after Return N does nothing")
	}
}

// A second T gives the keys back to the sheet, and the wheel over a field scrolls the
// panel.
func TestTheDialGivesTheKeysBack(t *testing.T) {
	x := looking(t, round...)
	x.enter(t, fromField, "Stell")
	x.view.Focus()
	x.Type("t")
	if x.Canvas().Focused() != x.dial.Ring().(fyne.Focusable) {
		t.Fatalf("after T the keys are at %T", x.Canvas().Focused())
	}
	x.Type("t")
	if x.Canvas().Focused() != fyne.Focusable(x.view.Area()) {
		t.Errorf("after a second T the keys are at %T", x.Canvas().Focused())
	}
	x.Resize(fyne.NewSize(1292, 420))
	area, _ := uitest.Find[*widgets.NestedScroll](x.Window, bearingField)
	f, _ := uitest.Find[*widgets.EditField](x.Window, bearingField)
	at := x.place(f).AddXY(20, 10)
	test.Scroll(x.Canvas(), at, 0, -40)
	if area.Offset.Y == 0 {
		t.Error("the wheel over the field scrolls nothing")
	}
}

// With terrain the panel says which marks the ground hides, and that it knows no more; the
// slope of the tests rises to the east and hides nothing, a dam across it hides what lies
// behind. Without terrain nothing is claimed.
func TestHiddenMarks(t *testing.T) {
	x := looking(t, spot{"Stell", 60, 200}, spot{"Near", 120, 200}, spot{"Far", 300, 200})
	x.enter(t, fromField, "Stell")
	x.enter(t, bearingField, "090 grid")
	x.says(t, "cannot tell what is hidden")
	x.hush(t, "· hidden", "hides")
	x.slope(t, 0)
	x.says(t, "Hidden means that the terrain shows higher ground in between")
	x.hush(t, "· hidden", "hides it")
	x.slope(t, 60)
	_, says := x.rows("Near", "Far", "Stell")
	if !strings.Contains(says["Far"], "· hidden") || strings.Contains(says["Near"], "hidden") {
		t.Errorf("Far %q, Near %q", says["Far"], says["Near"])
	}
	x.says(t, "According to the terrain, higher ground hides Far.")
	x.Tap(t, "Far")
	x.says(t, "from you hides it")
}

// The mark that the keys go on to is brought into sight with the position; one that is in
// sight moves nothing.
func TestTheChosenMarkIsBroughtIntoSight(t *testing.T) {
	x := looking(t, round...)
	x.enter(t, fromField, "Stell")
	x.enter(t, bearingField, "060 grid")
	x.view.Area().Fit()
	before := x.view.Area().View()
	x.Window.Key(fyne.KeyPageDown)
	if x.Drain(); x.view.Area().View() != before {
		t.Error("the sheet moves for a mark that is in sight")
	}
	x.view.Area().PanBy(-2000, 0)
	x.Window.Key(fyne.KeyPageDown)
	x.Drain()
	for _, m := range []view.PicPt{{X: 190, Y: 160}, {X: 100, Y: 200}} { // Tarn, and Stell
		if !x.view.InView(m) {
			t.Errorf("%v is not in sight", m)
		}
	}
}
