package ledger_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/ledger"
)

// host notes what the ledger asks of the window.
type host struct {
	found    []plan.ID
	left     int
	arranged int
	letters  string // that mean something else than to the table
}

func (h *host) Find(id plan.ID)              { h.found = append(h.found, id) }
func (h *host) FocusSheet()                  { h.left++ }
func (h *host) Arrange()                     { h.arranged++ }
func (h *host) EscapeActs() []*fyne.MenuItem { return nil }

func (h *host) Takes(r rune, _ *fyne.KeyEvent) bool {
	return r != 0 && strings.ContainsRune(h.letters, r)
}

// table is a ledger in a window of the test driver.
type table struct {
	*ledger.Ledger
	s    *session.Session
	w    fyne.Window
	host *host
	line *foot.Line
}

// stand shows a route of n joined legs on an invented isle, 5 m to the pixel.
func stand(t testing.TB, n int, size fyne.Size) table {
	t.Helper()
	test.NewTempApp(t)
	s := session.New(nil, nil, func() time.Time { return time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC) })
	must(t, s.OpenSheet(session.Picture{Path: "/maps/isle.png", Width: 2000, Height: 2000, DPI: 254}))
	must(t, s.SetGrid(geodesy.EPSG(27700)))
	for text, at := range map[string]calib.PicturePt{"51000 799000": {Col: 200, Row: 200}, "59000 791000": {Col: 1800, Row: 1800}} {
		_, err := s.AddControlPoint(at, text)
		must(t, err)
	}
	end := func(i int) plan.End {
		pos, err := s.PositionAt(calib.PicturePt{Col: 300 + float64(i)*20, Row: 900 + float64(i%2)*40}, 0.5)
		must(t, err)
		return plan.AtPosition(pos)
	}
	for i := range n {
		_, err := s.KeepLeg(end(i), end(i+1))
		must(t, err)
	}
	s.Select("")
	h, line := &host{}, foot.New()
	w := test.NewTempWindow(t, nil)
	l := ledger.New(s, line, ask.New(w, line, func(f func()) { f() }), h)
	w.SetContent(l)
	w.SetPadded(false)
	w.Resize(size)
	return table{l, s, w, h, line}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func wide() fyne.Size { return fyne.NewSize(1200, 206) }

// narrow is the ledger of a window of 1280×800 at scale 1.5.
func narrow() fyne.Size { return fyne.NewSize(525, 164) }

func (x table) click(leg int, head string) { test.TapCanvas(x.w.Canvas(), x.CellCentre(leg, head)) }

func (x table) typed(text string) {
	for _, r := range text {
		x.w.Canvas().Focused().TypedRune(r)
	}
}

func (x table) keys(names ...fyne.KeyName) {
	for _, k := range names {
		x.w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: k})
	}
}

// open reports whether a cell is being typed into, and its text.
func (x table) open() (string, bool) {
	if f, ok := x.w.Canvas().Focused().(interface{ SelectedText() string }); ok {
		return fmt.Sprint(f.SelectedText()), true
	}
	return "", false
}

// Typing replaces what stands in the chosen cell, in one step of undo; Escape discards
// it.
func TestTypingEditsTheChosenCell(t *testing.T) {
	x := stand(t, 3, wide())
	x.click(1, "tick-off feature")
	before := x.s.Plan()
	x.typed("old wall")
	x.keys(fyne.KeyEscape)
	if x.s.Plan() != before {
		t.Error("Escape did not discard the typing")
	}
	x.typed("old wall")
	x.keys(fyne.KeyReturn)
	if got := x.s.Plan().Legs[1].TickOff; got != "old wall" {
		t.Errorf("the leg has %q, want what was typed", got)
	}
	x.typed("gate")
	x.keys(fyne.KeyReturn)
	if got := x.s.Plan().Legs[1].TickOff; got != "gate" {
		t.Errorf("the leg has %q, want the old text replaced", got)
	}
	x.keys(fyne.KeyReturn, fyne.KeyReturn) // opened with all of it selected, and left as it was
	x.typed("stile")
	x.keys(fyne.KeyReturn)
	if got := x.s.Plan().Legs[1].TickOff; got != "stile" {
		t.Errorf("the leg has %q, want all that was typed", got)
	}
	x.s.Undo()
	x.s.Undo()
	x.s.Undo()
	if x.s.Plan() != before {
		t.Error("three cells typed are not three steps of undo")
	}
}

// A letter that means something else opens no cell; another one does.
func TestLettersThatAreNotTheTables(t *testing.T) {
	x := stand(t, 2, wide())
	x.click(1, "note")
	x.host.letters = "n"
	if x.typed("n"); x.w.Canvas().Focused() == nil {
		t.Fatal("the table has lost the keys")
	}
	if _, open := x.open(); open {
		t.Error("N opens the cell, and it means something else")
	}
	x.typed("wall")
	x.keys(fyne.KeyReturn)
	if got := x.s.Plan().Legs[1].Note; got != "wall" {
		t.Errorf("the leg has the note %q, want wall", got)
	}
}

// The chosen cell is drawn while the table has the keys, and not while letters go
// elsewhere.
func TestChosenCellIsDrawnWithTheKeys(t *testing.T) {
	x := stand(t, 2, wide())
	x.click(1, "note")
	at, _, _, _, _, _ := x.Chosen()
	look := func() (cell, beside any) {
		img := x.Paint(1200, 206)
		return img.At(int(at.X)+3, int(at.Y)+3), img.At(int(at.X)-3, int(at.Y)+3)
	}
	if cell, beside := look(); cell == beside {
		t.Errorf("with the keys the cell is %v like the cell beside it", cell)
	}
	x.w.Canvas().Unfocus()
	if cell, beside := look(); cell != beside {
		t.Errorf("without the keys the cell is %v, beside it %v", cell, beside)
	}
}

// A blank begins no text and moves nothing: not the map, not the plan.
func TestSpaceDoesNothing(t *testing.T) {
	x := stand(t, 3, wide())
	x.click(1, "tick-off feature")
	before := x.s.Plan()
	x.keys(fyne.KeySpace)
	x.typed(" ")
	if _, open := x.open(); open || len(x.host.found) > 0 || x.s.Plan() != before {
		t.Errorf("a blank opened a cell %v, found %v", open, x.host.found)
	}
}

// A computed cell is not typed into, and says so.
func TestComputedCells(t *testing.T) {
	x := stand(t, 2, wide())
	for _, head := range []string{"leg", "time", "back"} {
		x.line.Say("")
		x.click(0, head)
		x.typed("9")
		if _, open := x.open(); open || x.line.Message() == "" {
			t.Errorf("%s: opened %v, said %q", head, open, x.line.Message())
		}
	}
}

// Tab keeps what is typed and goes on through the cells that can be typed into, row by
// row; it leaves the ledger after the last one, and Escape at once.
func TestTabStaysUntilTheLastCell(t *testing.T) {
	x := stand(t, 2, wide())
	x.click(0, "catching feature")
	x.typed("stream")
	x.keys(fyne.KeyTab)
	if _, open := x.open(); !open || x.Column() != "note" || x.s.Plan().Legs[0].Catching != "stream" {
		t.Fatalf("at %q, open %v, kept %q", x.Column(), open, x.s.Plan().Legs[0].Catching)
	}
	x.typed("slow")
	x.keys(fyne.KeyTab, fyne.KeyEscape)
	if x.Column() != "from" || x.s.Selection().ID != x.s.Plan().Legs[1].ID || x.s.Plan().Legs[0].Note != "slow" {
		t.Errorf("at %q of %v, want from of the next leg", x.Column(), x.s.Selection())
	}
	stops := 0
	for ; stays(x) && stops < 50; stops++ {
		x.keys(fyne.KeyTab)
	}
	if x.Column() != "note" || stops != 8 {
		t.Errorf("Tab left from %q after %d cells, want from note after 8", x.Column(), stops)
	}
	x.keys(fyne.KeyEscape)
	if x.host.left != 1 {
		t.Error("Escape did not leave for the sheet")
	}
}

func stays(x table) bool { return x.w.Canvas().Focused().(fyne.Tabbable).AcceptsTab() }

// In a narrow window the table moves sideways with the keyboard's cell, and every
// column can be seen; the wheel and a click move it too.
func TestNarrowTableMovesSideways(t *testing.T) {
	x := stand(t, 8, narrow())
	x.click(0, "from")
	walk := func(k fyne.KeyName) {
		t.Helper()
		x.keys(k)
		at, size, left, top, right, bottom := x.Chosen()
		if at.X < left-0.5 || at.X+size.Width > right+0.5 || at.Y < top-0.5 || at.Y+size.Height > bottom+0.5 {
			t.Errorf("%s: the cell of %q at %v, %v is not within %v to %v, %v to %v", k, x.Column(), at, size, left, right, top, bottom)
		}
	}
	seen := map[string]bool{}
	for range x.Columns() {
		walk(fyne.KeyRight)
		seen[x.Column()] = true
	}
	for range 7 {
		walk(fyne.KeyDown)
	}
	for range x.Columns() {
		walk(fyne.KeyLeft)
		seen[x.Column()] = true
	}
	if len(seen) != len(x.Columns()) || x.Offset().X != 0 || x.Offset().Y == 0 {
		t.Errorf("saw %d of %d columns, ended at %v", len(seen), len(x.Columns()), x.Offset())
	}
	test.Scroll(x.w.Canvas(), x.CellCentre(7, "to"), -80, 0)
	if x.Offset().X != 80 {
		t.Errorf("a wheel sideways moved it to %v, want 80", x.Offset().X)
	}
	x.click(7, "distance")
	if x.Column() != "distance" {
		t.Errorf("a click on distance in the moved table chose %q", x.Column())
	}
}

// A click on scrolled rows chooses the row under the pointer and scrolls nothing.
func TestTapOnScrolledRows(t *testing.T) {
	x := stand(t, 7, fyne.NewSize(1200, 30+22+3*42+8))
	test.Scroll(x.w.Canvas(), x.CellCentre(0, "to"), 0, -1000)
	before := x.Offset()
	x.click(6, "to")
	if x.s.Selection().ID != x.s.Plan().Legs[6].ID || x.Offset() != before || before.Y == 0 {
		t.Errorf("chose %v, scrolled from %v to %v", x.s.Selection(), before, x.Offset())
	}
}

// What is refused leaves the cell open and says why; leaving the cell discards it.
func TestRefusedTyping(t *testing.T) {
	x := stand(t, 2, wide())
	before := x.s.Plan()
	x.click(0, "grid")
	x.typed("abc")
	x.keys(fyne.KeyReturn)
	if _, open := x.open(); !open || !x.line.Failed() || x.TakeTyping() {
		t.Errorf("open %v, failed %v: want the typing there to be corrected", open, x.line.Failed())
	}
	if x.keys(fyne.KeyEscape); x.line.Failed() {
		t.Error("the refusal of what Escape discarded is still said")
	}
	x.click(0, "grid")
	x.typed("abc")
	x.click(1, "note")
	if _, open := x.open(); open || x.s.Plan() != before {
		t.Error("the refused typing stayed, or changed the plan")
	}
}

// Before a save what is being typed is handed over, once.
func TestTypingIsHandedOver(t *testing.T) {
	x := stand(t, 2, wide())
	acts := 0
	x.s.OnChange(func(c session.Change) {
		if c.Step != "" {
			acts++
		}
	})
	x.click(0, "note")
	x.typed("stile")
	if !x.TakeTyping() || x.s.Plan().Legs[0].Note != "stile" || acts != 1 {
		t.Errorf("note %q after %d acts, want stile after one", x.s.Plan().Legs[0].Note, acts)
	}
}

// A new name typed into an end makes a mark there, and the next leg begins at it.
func TestNamingAnEnd(t *testing.T) {
	x := stand(t, 3, wide())
	x.click(0, "to")
	x.typed("Sheepfold")
	x.keys(fyne.KeyReturn)
	m, ok := x.s.Plan().MarkByName("Sheepfold")
	if !ok || x.s.Plan().Legs[1].From.Mark != m.ID {
		t.Errorf("marks %+v, the next leg begins at %+v", x.s.Plan().Marks, x.s.Plan().Legs[1].From)
	}
	if text, _ := x.Cell(1, "from"); text != "Sheepfold" {
		t.Errorf("the next leg begins at %q", text)
	}
}

// A right click and the menu key open the menu of the row, whose first and last leg
// cannot move further.
func TestRowMenu(t *testing.T) {
	x := stand(t, 3, wide())
	x.RightClick(x.CellCentre(2, "to"))
	if x.w.Canvas().Overlays().Top() == nil || x.s.Selection().ID != x.s.Plan().Legs[2].ID {
		t.Fatalf("no menu, or of another row: %v", x.s.Selection())
	}
	x.w.Canvas().Overlays().Remove(x.w.Canvas().Overlays().Top())
	x.Focus()
	x.keys(desktop.KeyMenu)
	if x.w.Canvas().Overlays().Top() == nil {
		t.Error("the menu key opened no menu")
	}
}

// The keys delete and choose.
func TestKeysOfTheTable(t *testing.T) {
	x := stand(t, 4, wide())
	ids := x.s.Plan().Legs
	x.Focus()
	x.keys(fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp)
	if x.s.Selection().ID != ids[1].ID {
		t.Errorf("chose %v, want the second leg", x.s.Selection())
	}
	x.keys(fyne.KeyDelete)
	if len(x.s.Plan().Legs) != 3 || x.s.Plan().LegIndex(ids[1].ID) >= 0 {
		t.Errorf("legs %+v, want all but the second", x.s.Plan().Legs)
	}
}

// The upper edge is dragged, within the window, and moved by keys; the height stays
// when the ledger was folded meanwhile.
func TestHeightIsDragged(t *testing.T) {
	x := stand(t, 3, wide())
	usual := x.Height(800)
	x.Splitter().Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(0, -100)})
	if got := x.Height(800); got < usual+80 || x.host.arranged == 0 {
		t.Errorf("%v high after dragging it up by 100 from %v", got, usual)
	}
	if got := x.Height(300); got >= 300 {
		t.Errorf("%v high in a window of 300", got)
	}
	high := x.Height(800)
	x.Resize(fyne.NewSize(900, high))
	for _, way := range []float32{1, -1, 1} {
		x.Step(way)
		if got := x.Height(800) - high; got*way <= 0 {
			t.Errorf("a step by %v changes the height by %v", way, got)
		}
		high = x.Height(800)
		x.Resize(fyne.NewSize(900, high))
	}
	x.ToggleFold()
	folded := x.Height(800)
	if x.Step(1); x.Height(800) != folded {
		t.Error("a folded ledger becomes higher")
	}
	x.ToggleFold()
	if got := x.Height(800); folded > 40 || got < usual+80 {
		t.Errorf("%v folded, %v after it", folded, got)
	}
	x.Splitter().Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(0, 1000)})
	if got := x.Height(800); got < 80 || got > usual {
		t.Errorf("%v high after dragging it all the way down", got)
	}
}

// An empty ledger folds while a sheet is calibrated, unless the person unfolds it; one
// with legs does not.
func TestEmptyLedgerFolds(t *testing.T) {
	x := stand(t, 0, wide())
	x.Calibrating(true)
	if !x.Folded() {
		t.Error("an empty ledger takes room while a sheet is calibrated")
	}
	x.Calibrating(false)
	if x.Folded() {
		t.Error("it stays folded afterwards")
	}
	x.Calibrating(true)
	x.ToggleFold()
	if x.Folded() {
		t.Error("it cannot be unfolded")
	}
	y := stand(t, 1, wide())
	if y.Calibrating(true); y.Folded() {
		t.Error("a ledger with legs folds")
	}
}

// A narrow ledger scrolls sideways, but not while it is empty.
func TestAnEmptyLedgerDoesNotScrollSideways(t *testing.T) {
	for legs := range 2 {
		x, want := stand(t, legs, narrow()), legs > 0
		test.Scroll(x.w.Canvas(), fyne.NewPos(200, 60), -100, 0)
		if x.ScrollsSideways() != want || (x.Offset().X > 0) != want {
			t.Errorf("%d legs: a bar %v, moved to %v, want %v", legs, x.ScrollsSideways(), x.Offset(), want)
		}
	}
}

// The sum names the routes that a moved leg breaks the ledger into.
func TestTotalsNameBrokenRoutes(t *testing.T) {
	x := stand(t, 4, wide())
	must(t, x.s.MoveLegUp(x.s.Plan().Legs[3].ID))
	if got := x.Totals(); !strings.Contains(got, "1–2, 3, 4") {
		t.Errorf("the sum is %q", got)
	}
}

// The heading says that a sheet is unchecked while one of the legs rests on it, whatever
// sheet is shown.
func TestTotalsSayUnchecked(t *testing.T) {
	x := stand(t, 3, wide())
	const says = "sheet unchecked"
	if checked := x.s.Verdict().Checked; strings.Contains(x.Totals(), says) == checked {
		t.Fatalf("checked %v: the heading is %q", checked, x.Totals())
	}
	sheet, _ := x.s.Sheet()
	for range sheet.Evidence {
		must(t, x.s.RemoveEvidence(0))
	}
	if x.s.Verdict().Checked || !strings.Contains(x.Totals(), says) {
		t.Errorf("without evidence the heading is %q", x.Totals())
	}
}

// While a mark or an end is dragged the ledger stays as it is; it follows once, at the
// end.
func TestLedgerWaitsForTheEndOfADrag(t *testing.T) {
	x := stand(t, 3, wide())
	id := x.s.Plan().Legs[1].ID
	text := func() string { got, _ := x.Cell(1, "grid"); return got }
	before := text()
	x.s.BeginDrag()
	for i := range 5 {
		pos, err := x.s.PositionAt(calib.PicturePt{Col: 900, Row: 300 + float64(i)*50}, 0.5)
		must(t, err)
		must(t, x.s.MovePoint(id, 1, plan.AtPosition(pos)))
		if text() != before {
			t.Fatalf("step %d of the drag wrote the ledger anew", i)
		}
	}
	x.s.EndDrag()
	if text() == before {
		t.Error("the ledger does not follow at the end of the drag")
	}
}

// What a person asked of the ledger's height comes back at the next start; what nobody
// can have asked for does not.
func TestHeightAtTheNextStart(t *testing.T) {
	x := stand(t, 3, wide())
	usual := x.Height(800)
	x.Splitter().Dragged(&fyne.DragEvent{Dragged: fyne.NewDelta(0, -100)})
	x.ToggleFold()
	asked := x.Asked()
	y := stand(t, 3, wide())
	if y.Ask(asked); !y.Folded() || y.host.arranged == 0 {
		t.Errorf("it starts with %+v, folded %v, want it folded", y.Asked(), y.Folded())
	}
	y.ToggleFold()
	x.ToggleFold()
	if y.Height(800) != x.Height(800) || y.Height(800) < usual+80 {
		t.Errorf("%v high after the start, want %v", y.Height(800), x.Height(800))
	}
	for _, high := range []float64{math.NaN(), math.Inf(1), -5, 1} {
		y.Ask(ledger.Asked{Fold: 77, High: float32(high)})
		if y.Folded() || y.Height(800) != usual {
			t.Errorf("asked for %v: folded %v, %v high, want %v", high, y.Folded(), y.Height(800), usual)
		}
	}
}

// A leg that is moved stays in sight, however far it goes.
func TestAMovedLegStaysInSight(t *testing.T) {
	x := stand(t, 12, fyne.NewSize(700, 160))
	id := x.s.Plan().Legs[0].ID
	x.s.Select(id)
	for _, by := range []int{1, -1} {
		before := x.Offset().Y
		x.line.Say("Not changed.")
		for range 11 {
			x.MoveRow(by)
		}
		if x.line.Message() != "Moved." {
			t.Errorf("the foot line says %q of the move", x.line.Message())
		}
		x.line.Say("Opened.")
		if x.MoveRow(by); x.line.Message() != "Opened." {
			t.Errorf("the foot line says %q where the leg can go no further", x.line.Message())
		}
		at := x.s.Plan().LegIndex(id)
		if got := x.Offset().Y - before; got*float32(by) <= 0 || (at == 11) != (by == 1) {
			t.Errorf("the leg is number %d; the table scrolled by %v", at+1, got)
		}
	}
}

// Undoing a move, and making it again, bring the row of the leg into sight.
func TestUndoOfAMoveBringsTheLegIntoSight(t *testing.T) {
	x := stand(t, 12, fyne.NewSize(700, 160))
	x.s.Select(x.s.Plan().Legs[0].ID)
	top := x.Offset().Y
	for range 11 {
		x.MoveRow(1)
	}
	end := x.Offset().Y
	for range 11 {
		x.s.Undo()
	}
	if got := x.Offset().Y; got != top {
		t.Errorf("after undo the rows are scrolled to %v, want %v", got, top)
	}
	for range 11 {
		x.s.Redo()
	}
	if got := x.Offset().Y; got != end || end == top {
		t.Errorf("after redo the rows are scrolled to %v, want %v", got, end)
	}
}

// Hidden columns stay hidden at the next start; the number of the leg cannot be hidden,
// what nobody can have hidden changes nothing, and naming an end shows its column again.
func TestHiddenColumns(t *testing.T) {
	x := stand(t, 3, wide())
	all := x.Columns()
	x.click(0, "back")
	x.Ask(ledger.Asked{Hidden: []string{"leg", "paces", "to", "no column"}})
	want := slices.DeleteFunc(slices.Clone(all), func(h string) bool { return h == "paces" || h == "to" })
	if got := x.Columns(); !slices.Equal(got, want) {
		t.Errorf("shows %v, want %v", got, want)
	}
	if x.Column() != "back" {
		t.Errorf("the cursor moved to %q", x.Column())
	}
	asked := x.Asked()
	x.Edit(x.s.Plan().Legs[0].ID, session.FieldTo)
	if text, open := x.open(); !open || !slices.Contains(x.Columns(), "to") || slices.Contains(x.Columns(), "paces") {
		t.Errorf("naming an end: typing %v %q, columns %v", open, text, x.Columns())
	}
	y := stand(t, 3, wide())
	if y.Ask(asked); !slices.Equal(y.Columns(), want) {
		t.Errorf("the next start shows %v, want %v", y.Columns(), want)
	}
}

// A profile has a column only where the plan names terrain.
func TestProfileNeedsTerrain(t *testing.T) {
	x := stand(t, 2, wide())
	if slices.Contains(x.Columns(), "profile") {
		t.Error("a plan without terrain has a column of profiles")
	}
	must(t, x.s.OpenTerrain(plan.Terrain{Path: "/maps/isle.hgt", SHA256: strings.Repeat("a", 64)}))
	if !slices.Contains(x.Columns(), "profile") {
		t.Error("a plan with terrain has no column of profiles")
	}
	if text, under := x.Cell(0, "profile"); text != "?" || under != "no terrain" {
		t.Errorf("a leg without heights shows %q, %q", text, under)
	}
}

// What is chosen elsewhere moves the table to its row and never sideways.
func TestChoosingElsewhereMovesNothingSideways(t *testing.T) {
	x := stand(t, 8, narrow())
	x.s.Select(x.s.Plan().Legs[7].ID)
	if got := x.Offset(); got.X != 0 || got.Y == 0 {
		t.Errorf("the table moved to %v", got)
	}
}

// At every place of a table that moves sideways a column is written whole or not at all;
// a note alone is shortened at the right edge.
func TestNoFigureIsCutAtAnEdge(t *testing.T) {
	x := stand(t, 3, narrow())
	notes := []string{"tick-off feature", "catching feature", "note"}
	seen := map[string]bool{}
	for range 60 {
		for head, w := range x.Written() {
			if w[0] != 0 && w[0] != w[1] && !slices.Contains(notes, head) {
				t.Fatalf("at %v %q is %v of %v", x.Offset(), head, w[0], w[1])
			}
			seen[head] = seen[head] || w[0] == w[1]
		}
		test.Scroll(x.w.Canvas(), x.CellCentre(0, "leg"), -31, 0)
	}
	for _, head := range x.Columns() {
		if !seen[head] {
			t.Errorf("%q was never seen whole", head)
		}
	}
}
