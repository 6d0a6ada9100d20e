package teachpanel_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/app/misread"
	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/compassview"
	"legwright/app/ui/teachpanel"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// trainedEast is the GMA that these lessons declare, so that corrections are seen.
const trainedEast = 12

// steppedThrough is a panel at the job of the compass before two legs, of 045° and 135°
// grid and 1 414 m each, with a training GMA of 12° east; the first is the line.
func steppedThrough(t *testing.T) *stood {
	t.Helper()
	x := stand(t)
	side := container.NewGridWithRows(2, x.Words(), x.Body())
	beside := container.NewGridWrap(fyne.NewSize(300, 300), x.Beside())
	x.SetContent(container.NewBorder(nil, x.line, nil, container.NewHBox(beside, side), x.view.Area()))
	x.legs(t, 100, 200, 200, 100, 300, 200)
	must(t, x.lesson.SetTraining(units.GMA(units.Degrees(trainedEast))))
	x.Choose(teachpanel.Compass)
	x.view.Focus()
	x.Window.Key(fyne.KeyPageDown)
	x.Drain()
	if n, _ := x.lesson.Place(); n != 1 {
		t.Fatalf("at line %d, want the first", n)
	}
	return x
}

// picture is what the compass beside the sheet shows.
func (x *stood) picture(t *testing.T) baseplate.View {
	t.Helper()
	for _, o := range test.WidgetRenderer(x.Beside().(fyne.Widget)).Objects() {
		if c, ok := o.(*compassview.Compass); ok {
			return c.Shown()
		}
	}
	t.Fatal("no compass stands beside the sheet")
	return baseplate.View{}
}

// at fails the test unless the lesson stands at a step.
func (x *stood) at(t *testing.T, by string, want teach.Stepping) {
	t.Helper()
	if got, on := x.lesson.Stepping(); got != want || !on {
		t.Errorf("%s: at %+v, shown %v, want %+v", by, got, on, want)
	}
}

// degrees are an angle in whole degrees of one turn.
func degrees(a units.Angle) int { return int(math.Round(a.Turn().Deg())) % 360 }

// Keys, a presenter's two keys and clicks go through the steps of both ways. What the
// compass shows is computed by hand for 045° grid and a GMA of 12° east, which is 033°
// magnetic: grid north is up, so magnetic north lies at 12°.
func TestStepsOfTheCompass(t *testing.T) {
	x := steppedThrough(t)
	x.at(t, "chosen", teach.Stepping{})
	type stand struct {
		plate, ring int // of the arrow, and what the ring shows
		index       string
	}
	for _, way := range []struct {
		is    teach.Way
		names [4]string
		shows [4]stand
	}{
		{teach.MapToGround, [4]string{"1 Edge", "2 Housing", "3 Correct", "4 Needle"}, [4]stand{{45, 265, ""}, {45, 45, "045° grid"}, {45, 33, "033° mag"}, {45, 33, "033° mag"}}},
		{teach.GroundToMap, [4]string{"1 Sight", "2 Needle", "3 Correct", "4 Plot"}, [4]stand{{45, 295, ""}, {45, 33, "033° mag"}, {45, 45, "045° grid"}, {45, 45, "045° grid"}}},
	} {
		if way.is == teach.GroundToMap {
			x.Type("m")
			x.at(t, "M", teach.Stepping{Way: way.is})
		}
		for by, go_ := range map[string]func(step int){
			"key":       func(step int) { x.Type(string(rune('0' + step))) },
			"click":     func(step int) { x.Tap(t, way.names[step-1]) },
			"Page Down": func(int) { x.Window.Key(fyne.KeyPageDown) },
		} {
			x.Type("0")
			for step := 1; step <= teach.LastStep; step++ {
				go_(step)
				x.at(t, by, teach.Stepping{Way: way.is, Step: step})
				v, want := x.picture(t), way.shows[step-1]
				if got := (stand{degrees(v.Plate), degrees(v.Plate - v.Housing), v.Index}); got != want || v.Hidden {
					t.Errorf("%s, way %d, step %d: %+v, want %+v", by, way.is, step, got, want)
				}
			}
		}
		x.Window.Key(fyne.KeyPageUp)
		x.at(t, "Page Up", teach.Stepping{Way: way.is, Step: teach.LastStep - 1})
	}
	if v := x.picture(t); v.Place != teach.InHand { // corrected, and still in the hand
		t.Errorf("the compass lies at %v", v.Place)
	}
	x.Tap(t, "Map to ground")
	x.at(t, "a click on the other way", teach.Stepping{})
	x.Type("4")
	if v := x.picture(t); degrees(v.Needle) != trainedEast || degrees(v.Gate) != trainedEast || v.Seat != teach.NorthEnd || degrees(v.Body) != 45 {
		t.Errorf("in the hand the needle stands at %d°, the gate at %d°, the walker looks %d°", degrees(v.Needle), degrees(v.Gate), degrees(v.Body))
	}
	x.Window.Key(fyne.KeyPageDown)
	if n, _ := x.lesson.Place(); n != 2 {
		t.Errorf("after the last step Page Down leads to line %d", n)
	}
	x.at(t, "another line", teach.Stepping{})
}

// led is the line on the sheet along which a slip leads: its grid bearing and its length
// by the sheet's own measure, on which a pixel is 10 m and grid north is up.
func (x *stood) led(t *testing.T) (l overlay.Led, bearing, lengthM float64, ok bool) {
	t.Helper()
	x.Drain()
	list := x.view.Scene().Lesson.Led
	if len(list) != 1 {
		return l, 0, 0, false
	}
	l = list[0]
	dx, dy := l.To.X-l.From.X, l.From.Y-l.To.Y
	return l, math.Mod(math.Atan2(dx, dy)*180/math.Pi+360, 360), 10 * math.Hypot(dx, dy), true
}

// Each mistake, come to by W, leads along the line on the sheet that the slip makes: what
// app/misread makes of the figure to set, or on the way to the map of the bearing to plot,
// and by hand from 045° grid with a GMA of 12° east: half a turn is 225°, the wrong way
// 045 + 24, twice 045 − 12, the lines that run east and west a quarter turn back. On the
// way to the map corrections go to the other hand, and the line is drawn back from the
// feature.
func TestWhereSlipsLead(t *testing.T) {
	x := steppedThrough(t)
	gma := units.GMA(units.Degrees(trainedEast))
	toSet := misread.Task{Right: units.Degrees(33), North: units.MagneticNorth, GMA: gma}
	toPlot := misread.Task{Right: units.Degrees(45), North: units.GridNorth, GMA: gma}
	for _, way := range []teach.Way{teach.MapToGround, teach.GroundToMap} {
		task, toGrid := toSet, float64(trainedEast)
		if way == teach.GroundToMap {
			x.Type("m")
			task, toGrid = toPlot, 0
		}
		x.Type("4")
		if _, _, _, ok := x.led(t); ok {
			t.Errorf("way %d, done right: a line leads astray", way)
		}
		for _, c := range []struct {
			wrong                teach.Wrong
			slip                 misread.Slip
			walked, drawn, apart float64 // by hand; apart are the ends, in metres
		}{
			{teach.PlateReversed, misread.HalfTurn, 225, 225, 2828},
			{teach.HousingUpsideDown, misread.HalfTurn, 225, 225, 2828},
			{teach.SouthEndSeated, misread.HalfTurn, 225, 225, 2828},
			{teach.LinesAlongEastings, misread.AlongEastings, 315, 135, 2000},
			{teach.CorrectedWrongWay, misread.WrongSign, 69, 21, 588},
			{teach.CorrectedTwice, misread.CorrectedTwice, 33, 57, 296},
		} {
			x.Type("w")
			x.at(t, "W", teach.Stepping{Way: way, Step: teach.LastStep, Wrong: c.wrong})
			l, bearing, long, ok := x.led(t)
			want, from, end := c.walked, [2]float64{100, 200}, [2]float64{200, 100}
			if way == teach.GroundToMap {
				want, from, end = c.drawn, end, from
				bearing = math.Mod(bearing+180, 360) // it is drawn back
			}
			off := 10 * math.Hypot(l.To.X-end[0], l.To.Y-end[1])
			if !ok || math.Abs(bearing-want) > 0.2 || math.Abs(long-1414.2) > 2 || math.Abs(off-c.apart) > 6 {
				t.Errorf("way %d, %s: led %v to %.1f°, %.0f m, ends %.0f m apart, want %v°, 1414 m, %v m", way, c.wrong.Words(), ok, bearing, long, off, want, c.apart)
			}
			if !slices.ContainsFunc(task.Made(c.slip), func(a units.Angle) bool { return math.Abs(bearing-a.Deg()-toGrid) <= 0.2 }) {
				t.Errorf("way %d, %s: led to %.1f°, the slip makes %v", way, c.wrong.Words(), bearing, task.Made(c.slip))
			}
			if l.From.X != from[0] || l.From.Y != from[1] || l.Label == "" {
				t.Errorf("way %d, %s: led from %v, labelled %q", way, c.wrong.Words(), l.From, l.Label)
			}
			if v := x.picture(t); !v.Led.Wrong {
				t.Errorf("way %d, %s: the picture shows nothing wrong", way, c.wrong.Words())
			}
		}
		x.Type("w")
		x.at(t, "W after the last", teach.Stepping{Way: way, Step: teach.LastStep})
	}
}

// While figures are hidden neither the line astray nor the compass is seen, nor anything
// said of it; shown again all of it comes back.
func TestHiddenCompassTellsNothing(t *testing.T) {
	x := steppedThrough(t)
	x.Type("4w")
	x.says(t, "225° grid", "2.8 km", "NE", "SW")
	x.Type("h")
	if _, _, _, ok := x.led(t); ok || !x.picture(t).Hidden {
		t.Errorf("hidden: a line leads astray %v, the picture %+v", ok, x.picture(t))
	}
	x.hush(t, "225", "2.8 km", "NE", "SW", "180")
	x.Type("h")
	if _, _, _, ok := x.led(t); !ok || x.picture(t).Hidden {
		t.Error("shown again the line or the picture is missing")
	}
}

// Where a stop stands against the line it stands with the compass: the figure at the index
// is struck through, and no sentence says where it leads.
func TestStopStandsWithTheCompass(t *testing.T) {
	x := steppedThrough(t)
	x.Type("4w")
	if !x.picture(t).Stop {
		t.Error("the figure of a training GMA is not struck through")
	}
	x.lesson.ClearTraining()
	if x.picture(t).Stop {
		t.Fatal("the figure is struck through without a stop: the test tries nothing")
	}
	moved := x.s.Plan().Sheets[0].Points[0].At
	moved.Col += 60
	must(t, x.s.MoveControlPoint(0, moved))
	x.Type("4w")
	x.Drain()
	r, err := x.lesson.Read(x.s.Reader())
	must(t, err)
	if teach.StopOf(r) == "" {
		t.Fatalf("nothing stops the line: %v", r.Cautions)
	}
	if !x.picture(t).Stop {
		t.Error("the figure is not struck through")
	}
	for _, c := range r.Cautions {
		if c.Stop() {
			x.says(t, c.Text())
		}
	}
	if _, _, _, ok := x.led(t); ok {
		t.Error("a line is drawn to where figures lead that nobody may walk on")
	}
	x.hush(t, "You would walk")
}

// On a housing that is set to the GMA nothing is corrected: the third step turns nothing
// and says why. To correct all the same is to correct twice.
func TestSetHousingIsNotCorrected(t *testing.T) {
	x := steppedThrough(t)
	party := x.s.Plan().Party
	party.Compass.Set, party.Compass.SetTo = true, units.Degrees(trainedEast)
	must(t, x.s.SetParty(party))
	x.Type("2")
	before := x.picture(t)
	x.Tap(t, "3 No correction")
	x.at(t, "a click", teach.Stepping{Step: 3})
	if v := x.picture(t); v.Housing != before.Housing || v.Index != "045° grid" {
		t.Errorf("the ring shows %q after the third step", v.Index)
	}
	x.says(t, "Leave the housing alone")
	for range 6 {
		x.Type("w")
	}
	x.at(t, "W six times", teach.Stepping{Step: 3, Wrong: teach.CorrectedTwice})
	if _, bearing, _, ok := x.led(t); !ok || math.Abs(bearing-33) > 0.2 {
		t.Errorf("corrected twice leads to %.1f°, %v, want 33°", bearing, ok)
	}
}

// Without a line the keys step nowhere and say so; another job puts the compass away.
func TestCompassComesAndGoes(t *testing.T) {
	x := steppedThrough(t)
	x.Type("2")
	x.Choose(teachpanel.Show)
	if _, on := x.lesson.Stepping(); on || x.Beside().Visible() || x.Words().Visible() {
		t.Errorf("another job: stepping %v, beside %v, words %v", on, x.Beside().Visible(), x.Words().Visible())
	}
	x.Choose(teachpanel.Compass)
	x.at(t, "back", teach.Stepping{Step: 2})
	x.s.Select("")
	x.Drain()
	x.Type("3")
	if s, _ := x.lesson.Stepping(); s.Step == 3 || !x.picture(t).Hidden || x.line.Message() == "" {
		t.Errorf("without a line: at step %d, said %q", s.Step, x.line.Message())
	}
	x.Panel.Show(false)
	if _, on := x.lesson.Stepping(); on || x.Beside().Visible() {
		t.Error("another panel leaves the compass standing")
	}
}

// The list of mistakes chooses one by mouse, and the menu's acts do the same.
func TestMistakesByListAndMenu(t *testing.T) {
	x := steppedThrough(t)
	x.Choose(teachpanel.Show)
	x.Acts().Step(2)
	x.at(t, "the menu", teach.Stepping{Step: 2})
	x.Acts().SetWrong(teach.HousingUpsideDown)
	x.at(t, "the menu", teach.Stepping{Step: 2, Wrong: teach.HousingUpsideDown})
	x.says(t, teach.HousingUpsideDown.Words())
	x.Acts().NextWrong()
	x.at(t, "the next mistake", teach.Stepping{Step: 2, Wrong: teach.SouthEndSeated})
	if _, _, _, ok := x.led(t); ok {
		t.Error("a mistake of the last step leads astray at the second")
	}
	x.Acts().OtherWay()
	x.at(t, "the other way", teach.Stepping{Way: teach.GroundToMap, Wrong: teach.SouthEndSeated})
}

// What is to be done first goes from the foot line once it is done; another message stays.
func TestWhatIsToBeDoneGoes(t *testing.T) {
	x := stand(t)
	x.Choose(teachpanel.Compass)
	x.view.Focus()
	x.Type("2")
	if !strings.HasPrefix(x.line.Message(), "Drag a line first") {
		t.Fatalf("without a line the foot line says %q", x.line.Message())
	}
	x.drag(100, 200, 200, 100)
	if got := x.line.Message(); strings.HasPrefix(got, "Drag a line") {
		t.Errorf("a line was dragged, and the foot line still says %q", got)
	}
	x.Choose(teachpanel.Identify)
	x.click(100, 200)
	x.view.Focus()
	x.Type("f")
	if x.line.Message() == "" {
		t.Fatal("F says nothing")
	}
	x.click(150, 150)
	if got := x.line.Message(); got != "" {
		t.Errorf("the position was clicked, and the foot line still says %q", got)
	}
}
