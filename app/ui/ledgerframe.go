package ui

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ledger"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// ledgerFrame is the ledger with its heading, which folds it away.
type ledgerFrame struct {
	body    fyne.CanvasObject
	heading *widgets.Heading
	fold    *widgets.Tool
	table   *ledger.Ledger
}

func newLedgerFrame(table *ledger.Ledger, fold func()) *ledgerFrame {
	f := &ledgerFrame{heading: widgets.NewHeading("Ledger"), table: table}
	f.fold = widgets.NewTool(look.IconFold, "Fold the ledger away  (Ctrl+Shift+L)", fold)
	head := container.NewBorder(nil, nil, nil, f.fold, container.New(&widgets.Pad{Left: 10, Top: 2}, f.heading))
	f.body = widgets.NewSurface(container.NewBorder(head, nil, nil, nil, table), widgets.Top, 0)
	return f
}

func (f *ledgerFrame) setFolded(on bool) {
	if on {
		f.table.Hide()
		f.fold.SetIcon(look.IconUnfold)
		f.fold.SetHint("Unfold the ledger  (Ctrl+Shift+L)")
		return
	}
	f.table.Show()
	f.fold.SetIcon(look.IconFold)
	f.fold.SetHint("Fold the ledger away  (Ctrl+Shift+L)")
}

func (f *ledgerFrame) setTotals(text string) { f.heading.SetNote(text) }

// totalWords writes the sum of a route.
func totalWords(n int, sum leg.Row) string {
	legs := "1 leg"
	if n != 1 {
		legs = fmt.Sprintf("%d legs", n)
	}
	text := fmt.Sprintf("%s, %s", legs, units.Metres(sum.Reading.GroundM, sum.Reading.DistanceSigmaM))
	if sum.Time > 0 {
		text += ", walking " + units.Minutes(sum.Time) + " on the flat"
	}
	return text
}

// ledgerCallbacks says what happens in the ledger.
func (b *Bench) ledgerCallbacks() ledger.Callbacks {
	return ledger.Callbacks{
		Select: func(id string) { b.s.Select(plan.ID(id)) },
		Edit:   b.editCell,
		Remove: func(id string) { b.try(b.s.Remove(plan.ID(id)), "Leg removed. Undo brings it back.") },
		Move:   b.moveRow,
		Find:   func(id string) { b.findThing(plan.ID(id)) },
	}
}

// errNoEdit is the programmer's: a column that the ledger does not let edit.
var errNoEdit = errors.New("this column is computed and cannot be typed into")

// editCell types into one cell of a leg.
func (b *Bench) editCell(id string, c ledger.Column, text string) error {
	field, ok := map[ledger.Column]session.Field{
		ledger.From: session.FieldFrom, ledger.To: session.FieldTo,
		ledger.Grid: session.FieldGrid, ledger.Magnetic: session.FieldMagnetic,
		ledger.Distance: session.FieldDistance, ledger.TickOff: session.FieldTickOff,
		ledger.TooFar: session.FieldTooFar, ledger.Note: session.FieldNote,
	}[c]
	if !ok {
		return errNoEdit
	}
	if c == ledger.Distance {
		text = figureOnly(text)
	}
	before, _ := b.s.Plan().LegByID(plan.ID(id))
	err := b.s.SetLegField(plan.ID(id), field, text)
	changed := "Changed."
	if c == ledger.From || c == ledger.To {
		changed = b.told(changed, plan.ID(id))
	}
	b.try(err, changed)
	if after, ok := b.s.Plan().LegByID(plan.ID(id)); ok && err == nil && before.To.Mark != "" && after.To.Mark == "" {
		mark, _ := b.s.Plan().MarkByID(before.To.Mark)
		b.say(changed + " The leg no longer ends at " + mark.Name + ", and a leg that began at its end begins at the new one.")
	}
	return err
}

func (b *Bench) moveRow(id string, by int) {
	move := b.s.MoveLegUp
	if by > 0 {
		move = b.s.MoveLegDown
	}
	b.try(move(plan.ID(id)), "")
}
