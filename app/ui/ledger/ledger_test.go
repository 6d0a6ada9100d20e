package ledger

import (
	"errors"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/lettering"
)

// At every width the columns stand side by side without a gap, none below its
// least, and fill the width where there is room.
func TestSpansFillTheWidth(t *testing.T) {
	t.Parallel()
	var least float32
	for _, s := range specs() {
		least += s.min
	}
	for _, total := range []float32{300, least, 952, 1072, 1592, 2400} {
		at, width := spans(total)
		end := float32(0)
		for c, s := range specs() {
			if width[c] < s.min-0.01 {
				t.Errorf("at %v column %q is %v wide, least %v", total, s.head, width[c], s.min)
			}
			if d := at[c] - end; d > 0.01 || d < -0.01 {
				t.Errorf("at %v column %q begins at %v, want %v", total, s.head, at[c], end)
			}
			end = at[c] + width[c]
		}
		if want := max(total, least); end < want-0.5 || end > want+0.5 {
			t.Errorf("at %v the columns end at %v, want %v", total, end, want)
		}
		for c := range columns {
			if got := columnAt(at[c]+width[c]/2, total); got != c {
				t.Errorf("at %v the middle of column %d is taken for column %d", total, c, got)
			}
		}
	}
	if least > 952 {
		t.Errorf("the columns need %v, but a window of 1280 leaves 952", least)
	}
}

func rows() []Row {
	return []Row{
		{ID: "a", Number: "1", From: "Quay", To: "Cairn", Grid: "057°", TickOff: "wall"},
		{ID: "b", Number: "2", From: "Cairn", To: "Hut", Grid: "120°", Stopped: true},
		{ID: "c", Number: "3", From: "Hut", To: "Quay", Grid: "300°"},
	}
}

// stand puts a ledger into a window of the test driver.
func stand(t *testing.T, cb Callbacks) (*Ledger, fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	l := New(cb)
	w := test.NewTempWindow(t, l)
	w.Resize(fyne.NewSize(1100, 220))
	l.Fill(rows(), "")
	return l, w
}

func TestKeysWorkTheLedger(t *testing.T) {
	var selected, removed, found []string
	l, w := stand(t, Callbacks{
		Select: func(id string) { selected = append(selected, id) },
		Remove: func(id string) { removed = append(removed, id) },
		Find:   func(id string) { found = append(found, id) },
	})
	w.Canvas().Focus(l)
	for _, k := range []fyne.KeyName{fyne.KeyDown, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp, fyne.KeySpace, fyne.KeyDelete} {
		l.TypedKey(&fyne.KeyEvent{Name: k})
	}
	if got := selected; len(got) != 4 || got[0] != "a" || got[2] != "c" || got[3] != "b" {
		t.Errorf("chosen %v, want a b c b", got)
	}
	if len(found) != 1 || found[0] != "b" || len(removed) != 1 || removed[0] != "b" {
		t.Errorf("found %v, removed %v, want b and b", found, removed)
	}
}

func TestCellIsEditedAndRefused(t *testing.T) {
	var typed []string
	refuse := errors.New("no such mark")
	l, w := stand(t, Callbacks{Edit: func(id string, c Column, text string) error {
		typed = append(typed, id+" "+text)
		if text == "nowhere" {
			return refuse
		}
		return nil
	}})
	w.Canvas().Focus(l)
	l.table.cursor = To
	l.Edit()
	if !l.field.Visible() || l.field.Text != "Cairn" {
		t.Fatalf("field shown %v with %q, want it with Cairn", l.field.Visible(), l.field.Text)
	}
	l.field.SetText("nowhere")
	l.field.submit()
	if !l.field.Visible() {
		t.Error("the field closed on a text that was refused")
	}
	l.field.SetText("Hut")
	l.field.submit()
	if l.field.Visible() {
		t.Error("the field stayed open on a text that was taken")
	}
	if len(typed) != 2 || typed[1] != "a Hut" {
		t.Errorf("typed %q, want a nowhere, a Hut", typed)
	}
	l.table.cursor = Back
	l.Edit()
	if l.field.Visible() {
		t.Error("a computed column opened for typing")
	}
}

// Every figure that the ledger can show fits its least column whole: a cut
// bearing or distance would be a wrong one.
func TestFiguresAreNeverCut(t *testing.T) {
	t.Parallel()
	l := lettering.New().At(1.5)
	for _, c := range []struct {
		c    Column
		s    lettering.Style
		text string
	}{
		{Grid, plain(), "359.5°"},
		{Grid, plain(), "6390 mil"},
		{Magnetic, bold(), "6390 mil"},
		{Magnetic, bold(), "399 gon"},
		{Grid, small(), "± 180°"},
		{Magnetic, small(), "± 3200 mil"},
		{Back, plain(), "359.5° grid"},
		{Back, small(), "6390 mil mag"},
		{Back, plain(), "6390 mil grid"},
		{Distance, plain(), "912\u2009400 m"},
		{Distance, small(), "± 120\u2009000 m"},
		{Time, plain(), "12 h 45"},
		{RunTime, plain(), "59 min"},
	} {
		if w, room := l.Width(c.text, c.s), specs()[c.c].min-2*cellPad; w > room {
			t.Errorf("%q is %.1f wide in a column with room for %.1f", c.text, w, room)
		}
	}
}

// The wheel scrolls, and choosing a row brings it into view.
func TestRowsScroll(t *testing.T) {
	l, w := stand(t, Callbacks{})
	var many []Row
	for i := range 40 {
		many = append(many, Row{ID: string(rune('A' + i)), Number: "1"})
	}
	l.Fill(many, "")
	l.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -100)})
	if l.table.offset != 100 {
		t.Errorf("offset %v after a wheel of 100, want 100", l.table.offset)
	}
	w.Canvas().Focus(l)
	l.choose(39)
	room := l.Size().Height - headHeight
	if want := 40*rowHeight - room; l.table.offset != want {
		t.Errorf("offset %v with the last row chosen, want %v", l.table.offset, want)
	}
	l.Fill(many[:2], "")
	if l.table.offset != 0 {
		t.Errorf("offset %v with two rows, want 0", l.table.offset)
	}
}

func TestTapChoosesTheCell(t *testing.T) {
	l, _ := stand(t, Callbacks{})
	at, width := spans(l.Size().Width)
	l.Tapped(&fyne.PointEvent{Position: fyne.NewPos(at[TooFar]+width[TooFar]/2, headHeight+1.5*rowHeight)})
	if l.table.selected != 1 || l.table.cursor != TooFar {
		t.Errorf("chose row %d, column %d, want 1, %d", l.table.selected, l.table.cursor, TooFar)
	}
}

// A click on scrolled rows chooses the row under the pointer, though none was
// chosen and the click also gives the ledger the focus; so does Down begin with
// a row that is seen.
func TestTapOnScrolledRows(t *testing.T) {
	for _, byKey := range []bool{false, true} {
		var selected []string
		l, w := stand(t, Callbacks{Select: func(id string) { selected = append(selected, id) }})
		var seven []Row
		for i := range 7 {
			seven = append(seven, Row{ID: string(rune('1' + i))})
		}
		w.Resize(fyne.NewSize(1100, headHeight+3*rowHeight+8))
		l.Fill(seven, "")
		l.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, -1000)})
		at, want := l.table.offset, "7"
		if byKey {
			w.Canvas().Focus(l)
			l.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
			want = string(rune('1' + int(math.Ceil(float64(at/rowHeight)))))
		} else {
			l.Tapped(&fyne.PointEvent{Position: fyne.NewPos(40, l.Size().Height-5)})
		}
		if len(selected) != 1 || selected[0] != want || l.table.offset != at || at == 0 {
			t.Errorf("by key %v: chose %v and scrolled from %v to %v, want %s and no move", byKey, selected, at, l.table.offset, want)
		}
	}
}

// A cell hands its text over once, though what that sets off fills the ledger
// anew and takes the focus away; before a save it is handed over too.
func TestTypingIsHandedOverOnce(t *testing.T) {
	var l *Ledger
	var typed []string
	l, w := stand(t, Callbacks{Edit: func(_ string, _ Column, text string) error {
		typed = append(typed, text)
		if text == "no" {
			return errors.New("refused")
		}
		l.Fill(rows(), "a") // as the session does
		return nil
	}})
	w.Canvas().Focus(l)
	l.table.cursor = TickOff
	l.Edit()
	l.field.SetText("gate")
	l.field.submit()
	if len(typed) != 1 || l.field.Visible() {
		t.Errorf("handed over %q, field %v, want once and closed", typed, l.field.Visible())
	}
	l.Edit()
	l.field.SetText("stile")
	if !l.TakeTyping() || len(typed) != 2 || typed[1] != "stile" || l.field.Visible() {
		t.Errorf("handed over %q, want stile", typed)
	}
	l.Edit()
	l.field.SetText("no")
	if l.TakeTyping() || !l.field.Visible() {
		t.Error("a refused text is not kept to be mended")
	}
}
