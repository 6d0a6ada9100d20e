package routepanel_test

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// host notes what the panel asks of the window.
type host struct {
	shown int
	sheet []plan.ID
}

func (h *host) Show()                      { h.shown++ }
func (h *host) Moving() bool               { return false }
func (h *host) ShowSheet(id, _ plan.ID)    { h.sheet = append(h.sheet, id) }
func (h *host) Find(plan.ID)               {}
func (h *host) NameMark()                  {}
func (h *host) MayKeep(keep func())        { keep() }
func (h *host) Typed(rune, *fyne.KeyEvent) {}

// stood is a panel in a window of the test driver.
type stood struct {
	*routepanel.Panel
	s    *session.Session
	w    *uitest.Window
	line *foot.Line
	host *host
}

// stand shows the panel of the demo's plan, in the dates of a locale.
func stand(t testing.TB, locale string) stood {
	t.Helper()
	w := uitest.NewWindow(t, container.NewStack())
	x := stood{s: uitest.DemoSession(t), w: w, line: foot.New(), host: &host{}}
	now := func(f func()) { f() }
	never := func(func()) {} // the sheet, whose goroutines come back by it, is not drawn
	view := sheetview.New(x.s, x.line, dial.New(), never, x.host)
	x.Panel = routepanel.New(routepanel.Needs{
		Session: x.s, Foot: x.line, Ask: ask.New(w, x.line, now), View: view, Host: x.host,
		Dates: routepanel.LocalDates(in("LANG", locale)), Outer: func() *container.Scroll { return nil },
	})
	w.SetContent(container.NewGridWithRows(2, view.Area(), x.Body()))
	w.Resize(fyne.NewSize(328, 900))
	return x
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// type types over the field with a placeholder and presses Return.
func (x stood) fill(t *testing.T, field, text string) {
	t.Helper()
	x.w.FocusOn(t, field)
	x.w.Replace(text)
	x.w.Key(fyne.KeyReturn)
}

func (x stood) leave() { x.w.Canvas().Unfocus() }

func (x stood) words() string { return strings.Join(x.w.Texts(), " ") }

// What is typed for the selected thing is kept when the focus leaves the field, in one
// step of undo; Escape restores the old text.
func TestTypingIsKept(t *testing.T) {
	x := stand(t, "")
	m := x.s.Plan().Marks[0]
	x.s.Select(m.ID)
	before := x.s.Plan()
	x.w.FocusOn(t, "name")
	x.w.Replace("Old bothy")
	x.leave()
	if got, _ := x.s.Plan().MarkByID(m.ID); got.Name != "Old bothy" {
		t.Fatalf("the mark is called %q", got.Name)
	}
	x.s.Undo()
	if x.s.Plan() != before {
		t.Error("a name typed is not one step of undo")
	}
	x.w.FocusOn(t, "name")
	x.w.Replace("Byre")
	x.w.Key(fyne.KeyEscape)
	if x.s.Plan() != before {
		t.Error("Escape kept the typing")
	}
}

// A field never carries the text of one thing over to another.
func TestFieldsFollowTheSelection(t *testing.T) {
	x := stand(t, "")
	a, b := x.s.Plan().Marks[0], x.s.Plan().Marks[1]
	x.s.Select(a.ID)
	x.w.FocusOn(t, "name")
	x.w.Replace("Half typed")
	x.s.Select(b.ID)
	x.leave()
	if got, _ := x.s.Plan().MarkByID(b.ID); got.Name != b.Name {
		t.Errorf("the second mark is called %q, want %q", got.Name, b.Name)
	}
}

// A leg has its tick-off feature and its catching feature, a mark its reference.
func TestFieldsOfEachKind(t *testing.T) {
	x := stand(t, "")
	id := x.s.Plan().Legs[0].ID
	x.s.Select(id)
	x.fill(t, "tick-off feature", "sheep wall")
	x.fill(t, "catching feature", "the burn")
	l, _ := x.s.Plan().LegByID(id)
	if l.TickOff != "sheep wall" || l.Catching != "the burn" {
		t.Errorf("the leg has %q and %q", l.TickOff, l.Catching)
	}
	if _, ok := uitest.Find[*widgets.EditField](x.w, "grid reference"); ok {
		t.Error("a leg has a field for a reference")
	}
}

// A date is shown and read as the locale writes it; a refused one stays to be mended.
func TestDateAsTheLocaleWritesIt(t *testing.T) {
	x := stand(t, "de_DE.UTF-8")
	x.ShowSection(routepanel.Plan)
	x.fill(t, "25.11.2026", "6.5.2026")
	f, _ := uitest.Find[*widgets.EditField](x.w, "25.11.2026")
	if got := x.s.Plan().Date.String(); got != "2026-05-06" || f.Text != "06.05.2026" {
		t.Errorf("the date is %s, the field has %q", got, f.Text)
	}
	before := x.s.Plan()
	x.fill(t, "25.11.2026", "30.2.2026")
	if x.s.Plan() != before || !x.line.Failed() || f.Text != "30.2.2026" || x.w.Canvas().Focused() != fyne.Focusable(f) {
		t.Errorf("failed %v, the field has %q", x.line.Failed(), f.Text)
	}
	x.leave()
	if f.Text != "06.05.2026" {
		t.Errorf("the field has %q after leaving it", f.Text)
	}
}

// For a day without a magnetic model the panel says that there is no magnetic bearing.
func TestDateOutsideTheModel(t *testing.T) {
	x := stand(t, "")
	x.ShowSection(routepanel.Plan)
	for text, none := range map[string]bool{"2026-11-28": false, "2031-01-01": true, "2019-12-31": true} {
		x.fill(t, "2026-11-25", text)
		if got := x.line.Message(); strings.Contains(got, "no magnetic bearing") != none || x.line.Failed() {
			t.Errorf("%s: %q", text, got)
		}
	}
}

// Leg after leg can be typed: each begins where the route ends, the form stays where
// it is, and a refusal adds nothing.
func TestTypedLegs(t *testing.T) {
	x := stand(t, "")
	x.w.Resize(fyne.NewSize(328, 480))
	x.ShowTyped()
	fields := x.Controls()
	place := fyne.CurrentApp().Driver().AbsolutePositionForObject
	y := place(fields["typed bearing"]).Y
	for i, bearing := range []string{"90", "180", "45"} {
		legs := x.s.Plan().Legs
		x.w.Replace(bearing)
		x.fill(t, "850 m", "300 m")
		now := x.s.Plan().Legs
		if len(now) != len(legs)+1 || !now[len(legs)].From.Same(legs[len(legs)-1].To) {
			t.Fatalf("leg %d: %d legs after %d: %q", i, len(now), len(legs), x.line.Message())
		}
		if x.w.Canvas().Focused() != fields["typed bearing"].(fyne.Focusable) {
			t.Errorf("leg %d: the focus is not at the next bearing", i)
		}
		if got := place(fields["typed bearing"]).Y; got < y-1 || got > y+1 {
			t.Errorf("leg %d: the form is at %v, was at %v", i, got, y)
		}
	}
	before := x.s.Plan()
	x.w.Replace("400")
	x.fill(t, "850 m", "300 m")
	if x.s.Plan() != before || !x.line.Failed() || fields["typed bearing"].(*widget.Entry).Text != "400" {
		t.Errorf("a bearing of 400: %q", x.line.Message())
	}
}

// A mark is set at a typed reference, moved by its field, and a wrong reference is
// refused where it was typed.
func TestMarkByReference(t *testing.T) {
	x := stand(t, "")
	before := x.s.Plan()
	x.AskMark()
	x.fill(t, "grid reference, or latitude and longitude with °", "ZZ 99")
	if x.s.Plan() != before || !x.w.Shows("Set mark") {
		t.Error("a wrong reference was taken, or the form closed")
	}
	x.w.FocusOn(t, "name, or leave empty")
	x.w.Type("Weir")
	x.fill(t, "grid reference, or latitude and longitude with °", "NL 275 432")
	m, ok := x.s.Plan().MarkByName("Weir")
	if !ok || m.Position.Grid != (geodesy.Grid{E: 27_550, N: 743_250}) {
		t.Fatalf("the mark is %+v, want it at the centre 27550 743250", m)
	}
	x.fill(t, "grid reference", "NL 276 433")
	if m, _ := x.s.Plan().MarkByID(m.ID); m.Position.Grid.E != 27_650 {
		t.Errorf("the mark stands at %v", m.Position.Grid)
	}
}

// A list of many marks can be filtered by their names, which are seen whole.
func TestManyMarks(t *testing.T) {
	x := stand(t, "")
	at := x.s.Plan().Marks[0].Position
	long := strings.TrimSpace(strings.Repeat("by the old boundary wall ", 4)) + " Quernstone"
	for i := range 200 {
		name := fmt.Sprintf("Stake %d", i)
		if i == 150 {
			name = long
		}
		at.Grid.E += 10
		_, err := x.s.AddMark(name, at)
		must(t, err)
	}
	x.s.Select("")
	x.ShowSection(routepanel.Marks)
	x.w.FocusOn(t, "filter by name")
	filter, _ := uitest.Find[*widgets.EscapeEntry](x.w, "filter by name")
	wide := filter.Size().Width
	x.w.Type("quern")
	if filter.Size().Width >= wide {
		t.Errorf("the field stays %v wide beside how many it leaves", wide)
	}
	words := x.words()
	if strings.Contains(words, "Stake 1") {
		t.Errorf("the filter leaves %q", words)
	}
	for _, word := range strings.Fields(long) {
		if !strings.Contains(words, word) {
			t.Errorf("the name lacks %q in %q", word, words)
		}
	}
	x.w.Key(fyne.KeyReturn)
	if m, _ := x.s.Plan().MarkByName(long); x.s.Selection().ID != m.ID {
		t.Errorf("Return selected %v, want the mark found", x.s.Selection())
	}
	x.w.Key(fyne.KeyEscape)
	if filter.Text != "" || filter.Size().Width != wide {
		t.Errorf("Escape left %q in a field of %v, want an empty one of %v", filter.Text, filter.Size().Width, wide)
	}
}

// A section that was not seen is filled when it is shown, and a click selects.
func TestListsFollowThePlan(t *testing.T) {
	x := stand(t, "")
	sights := len(x.s.Plan().Sights)
	l := x.s.Plan().Legs[0]
	_, err := x.s.KeepSight(l.From, l.To)
	must(t, err)
	x.ShowSection(routepanel.Sights)
	rows := x.s.Reader().Sights()
	last := rows[sights]
	x.s.Select("")
	x.w.Tap(t, last.From+" – "+last.To)
	if x.s.Selection().ID != last.ID {
		t.Errorf("selected %v, want the sight that was kept", x.s.Selection())
	}
}

// The name of an end makes a mark there, and a name that is taken is refused in the
// form.
func TestNameOfAnEnd(t *testing.T) {
	x := stand(t, "")
	l := x.s.Plan().Legs[0]
	_, err := x.s.KeepSight(l.From, plan.AtPosition(x.s.Plan().Resolve(x.s.Plan().Legs[1].To)))
	must(t, err)
	id := x.s.Selection().ID
	marks := len(x.s.Plan().Marks)
	x.AskName(id, plan.ToEnd)
	x.fill(t, "name, such as sheepfold", x.s.Plan().Marks[0].Name)
	if len(x.s.Plan().Marks) != marks || !x.w.Shows("Name") {
		t.Error("a name that is taken was taken again")
	}
	x.w.Replace("Sheep wash")
	x.w.Key(fyne.KeyReturn)
	if _, ok := x.s.Plan().MarkByName("Sheep wash"); !ok || len(x.s.Plan().Marks) != marks+1 {
		t.Errorf("marks %+v", x.s.Plan().Marks)
	}
}

// What speaks against the selected thing stands in full above its fields.
func TestCautionsOfTheSelected(t *testing.T) {
	x := stand(t, "")
	l := x.s.Plan().Legs[0]
	must(t, x.s.SetLegField(l.ID, session.FieldDistance, "2 m"))
	x.s.Select(l.ID)
	rows := x.s.Rows()
	if !rows[0].Reading.Stopped() {
		t.Fatal("a leg of 2 m is not stopped: the test tries nothing")
	}
	for _, c := range rows[0].Reading.Cautions {
		if c.Stop() && !strings.Contains(strings.Join(strings.Fields(x.words()), " "), strings.Join(strings.Fields(c.Text()), " ")) {
			t.Errorf("%v is not written in %q", c.Code, x.words())
		}
	}
}

// Tracks are listed, named, hidden and deleted, and an import is taken back whole;
// each is one step of undo.
func TestTracks(t *testing.T) {
	x := stand(t, "")
	before := len(x.s.Plan().Marks)
	at, err := x.s.Reader().SystemOf(x.s.Plan().Marks[0].Position.Code)
	must(t, err)
	ll, _, err := at.ToWGS84(x.s.Plan().Marks[0].Position.Grid)
	must(t, err)
	w, err := x.s.BeginImport(session.Imported{
		Name: "walk.gpx", Marks: []session.ImportedPoint{{Name: "Larch", At: ll}},
		Tracks: []plan.Track{{Name: "up", Points: []geodesy.LatLon{ll, ll}}, {Name: "down", Points: []geodesy.LatLon{ll}}},
	})
	must(t, err)
	must(t, w.Run(t.Context(), func(int, int) {}))
	_, err = x.s.EndImport(w)
	must(t, err)
	x.ShowSection(routepanel.Tracks)
	if words := x.words(); !strings.Contains(words, "up 2 points") || !strings.Contains(words, "down 1 point") || !strings.Contains(words, "1 mark, 2 tracks") {
		t.Errorf("the list says %q", words)
	}
	x.w.Tap(t, "down")
	x.ShowSection(routepanel.Selected)
	x.fill(t, "name", "the way down")
	x.w.Tap(t, "Hide")
	if got, _ := x.s.Plan().TrackByID(x.s.Selection().ID); got.Name != "the way down" || !got.Hidden {
		t.Errorf("the track is %q, hidden %v", got.Name, got.Hidden)
	}
	x.w.Tap(t, "Show")
	x.w.Tap(t, "Delete")
	if n := len(x.s.Plan().Tracks); n != 1 {
		t.Errorf("%d tracks, want one left", n)
	}
	x.ShowSection(routepanel.Tracks)
	x.w.Tap(t, "Delete import")
	if n, m := len(x.s.Plan().Tracks), len(x.s.Plan().Marks); n != 0 || m != before {
		t.Errorf("%d tracks and %d marks, want none and %d", n, m, before)
	}
	x.s.Undo()
	if n, m := len(x.s.Plan().Tracks), len(x.s.Plan().Marks); n != 1 || m != before+1 {
		t.Errorf("undo leaves %d tracks and %d marks", n, m)
	}
}

// A track becomes a line once the person says of what kind; the track stays.
func TestTrackIsUsed(t *testing.T) {
	x := stand(t, "")
	at, err := x.s.Reader().SystemOf(x.s.Plan().Marks[0].Position.Code)
	must(t, err)
	var points []geodesy.LatLon
	for _, m := range x.s.Plan().Marks[:3] {
		ll, _, err := at.ToWGS84(m.Position.Grid)
		must(t, err)
		points = append(points, ll)
	}
	w, err := x.s.BeginImport(session.Imported{Name: "walk.gpx", Tracks: []plan.Track{{Name: "dyke", Points: points}}})
	must(t, err)
	must(t, w.Run(t.Context(), func(int, int) {}))
	_, err = x.s.EndImport(w)
	must(t, err)
	x.s.Select(x.s.Plan().Tracks[0].ID)
	x.ShowSection(routepanel.Selected)
	lines := len(x.s.Plan().Lines)
	x.w.Tap(t, "Use as…")
	x.w.Tap(t, "Use")
	if len(x.s.Plan().Lines) != lines {
		t.Fatal("it became a line before anybody said what it is")
	}
	uitest.All[*widgets.Select](x.w)[0].SetSelected("Line: wall")
	x.w.Tap(t, "Use")
	p := x.s.Plan()
	if len(p.Lines) != lines+1 || p.Lines[lines].Kind != plan.WallLine || p.Lines[lines].Name != "dyke" || len(p.Tracks) != 1 {
		t.Errorf("lines %+v", p.Lines[lines:])
	}
	if x.UseTrack(); x.w.Shows("Use dyke") {
		t.Error("the menu asks about a track while the line is selected")
	}
	x.s.Select(p.Tracks[0].ID)
	if x.UseTrack(); !x.w.Shows("Use dyke") {
		t.Error("the menu does not ask about the selected track")
	}
}

// While something is dragged the panel shows what it showed; it follows at the end.
func TestPanelWaitsForTheEndOfADrag(t *testing.T) {
	x := stand(t, "")
	m := x.s.Plan().Marks[0]
	x.s.Select(m.ID)
	f, _ := uitest.Find[*widgets.EditField](x.w, "grid reference")
	before := f.Text
	x.s.BeginDrag()
	pos := m.Position
	for range 3 {
		pos.Grid.E += 100
		must(t, x.s.MovePoint(m.ID, 0, plan.AtPosition(pos)))
		if f.Text != before {
			t.Fatal("the panel follows a drag")
		}
	}
	x.s.EndDrag()
	if f.Text == before {
		t.Error("the panel does not follow at the end of a drag")
	}
}

// BenchmarkMarks fills the list of 200 marks anew, as each act does while it is seen.
func BenchmarkMarks(b *testing.B) {
	x := stand(b, "")
	at := x.s.Plan().Marks[0].Position
	for i := range 200 {
		at.Grid.E += 10
		_, err := x.s.AddMark(fmt.Sprintf("Stake %d by the old boundary wall above the weir", i), at)
		must(b, err)
	}
	x.ShowSection(routepanel.Marks)
	ids := x.s.Plan().Marks
	for i := 0; b.Loop(); i++ {
		x.s.Select(ids[i%2].ID)
	}
}
