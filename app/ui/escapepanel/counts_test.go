package escapepanel_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// level opens level terrain under a box of the picture.
func (x *stood) level(t *testing.T, west, north, east, south float64) {
	t.Helper()
	a, err := x.view.PositionAt(view.PicPt{X: west, Y: north})
	must(t, err)
	b, err := x.view.PositionAt(view.PicPt{X: east, Y: south})
	must(t, err)
	m, err := terrain.NewModel(&terrain.Tile{
		Name: "level", System: x.s.Reader().System(), NorthWest: a.Grid, StepE: b.Grid.E - a.Grid.E, StepN: a.Grid.N - b.Grid.N,
		Cols: 2, Rows: 2, UnitM: 1, Heights: []float32{300, 300, 300, 300},
	})
	must(t, err)
	must(t, x.s.OpenTerrain(plan.Terrain{Path: "/level.hgt", SHA256: strings.Repeat("0", 64)}))
	x.s.SetGround(x.s.Plan().Terrain, m)
	x.Drain()
}

// counted are the counts of each leg of the only escape, in metres.
func (x *stood) counted() (all [][2]plan.Counted) {
	for _, l := range x.s.Plan().Escapes[0].Legs {
		all = append(all, [2]plan.Counted{l.Climb, l.Descent})
	}
	return all
}

// wants fails the test unless the legs are counted so.
func (x *stood) wants(t *testing.T, when string, want ...[2]plan.Counted) {
	t.Helper()
	if got := x.counted(); !slices.Equal(got, want) {
		t.Errorf("%s: counted %v, want %v", when, got, want)
	}
}

// Without terrain under a leg its contours are typed in a field of its own, which shows
// what the plan holds. What cannot be read is refused, and said.
func TestContoursAreCountedWhereThereIsNoTerrain(t *testing.T) {
	x, _, _ := made(t)
	x.dragTo(100, 200, 200, 200)
	x.view.Offer().KeepEscape()
	x.Drain()
	x.clicks(250, 150)
	field := func(label string) *widgets.EditField {
		f, ok := uitest.Find[*widgets.EditField](x.Window, label)
		if !ok {
			return nil
		}
		return f
	}
	enter := func(label, text string) {
		t.Helper()
		x.FocusOn(t, label)
		x.Replace(text)
		x.Window.Key(fyne.KeyReturn)
		x.Drain()
	}
	none, first := [2]plan.Counted{}, [2]plan.Counted{plan.Count(70), plan.Count(30)}
	enter("contours on leg 1", "7")
	if x.wants(t, "a number alone", none, none); !strings.Contains(x.line.Message(), "could be contours or metres") || field("contours on leg 1").Text != "7" {
		t.Errorf("7 is refused with %q, and the field shows %q", x.line.Message(), field("contours on leg 1").Text)
	}
	x.Replace("7 x 10 / 3 x 10")
	x.Window.Key(fyne.KeyReturn)
	if x.wants(t, "both", first, none); field("contours on leg 1").Text != "70 m / 30 m" {
		t.Errorf("the field shows %q", field("contours on leg 1").Text)
	}
	if !x.Shows("Its time is not known") { // leg 2 is not counted
		t.Errorf("the panel says %q", x.Texts())
	}
	enter("contours on leg 2", "2 x 10")
	if x.wants(t, "climb alone", first, [2]plan.Counted{plan.Count(20), {}}); !strings.Contains(x.line.Message(), "Count the descent too") {
		t.Errorf("a climb alone is taken with %q", x.line.Message())
	}
	x.FocusOn(t, "contours on leg 2")
	x.Replace("2 x 10 / 5 x 10")
	x.view.Focus() // the field commits when it is left
	x.Drain()
	second := [2]plan.Counted{plan.Count(20), plan.Count(50)}
	if x.wants(t, "left", first, second); x.Shows("Its time is not known") || !x.Shows("80 m down, 90 m up") {
		t.Errorf("the panel says %q", x.Texts())
	}
	x.Conceal(true)
	if field("contours on leg 1") != nil {
		t.Error("counts are shown while figures are hidden")
	}
	x.Conceal(false)
	x.level(t, 50, 180, 220, 220)
	enter("contours on leg 1", "")
	if x.wants(t, "taken back", none, second); field("contours on leg 1") != nil || field("contours on leg 2") == nil {
		t.Error("leg 1 has terrain and no count: its field should go, that of leg 2 stay")
	}
}
