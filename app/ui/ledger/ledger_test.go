package ledger

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
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
		{ID: "b", Number: "2", From: "Cairn", To: "Hut", Grid: "120°", Flagged: true},
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
	l.cursor = To
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
	l.cursor = Back
	l.Edit()
	if l.field.Visible() {
		t.Error("a computed column opened for typing")
	}
}

func TestFitCutsLongNames(t *testing.T) {
	test.NewTempApp(t)
	l := newLine()
	l.row = Row{From: "A mark with a name far longer than any column of any ledger could ever hold"}
	r := l.CreateRenderer().(*lineRenderer)
	r.Layout(fyne.NewSize(952, rowHeight))
	_, width := spans(952)
	if got := r.text[From].MinSize().Width; got > width[From]-2*cellPad {
		t.Errorf("the name is %v wide in a cell of %v", got, width[From]-2*cellPad)
	}
	if got := []rune(r.text[From].Text); got[len(got)-1] != '…' {
		t.Errorf("a cut name ends in %q, want an ellipsis", string(got))
	}
}
