package routepanel

import (
	"fmt"
	"strconv"
	"strings"

	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// numberField asks for a number that the plan stores in another unit. A number that
// nobody types over stays exactly as it is stored.
type numberField struct {
	name   string
	entry  *widgets.EscapeEntry
	stored float64
	scale  float64 // from what is stored to what is typed
	shown  string  // the stored number as the field has it
	empty  bool    // an empty field stands for 0
}

// newOptional is a field that may be empty, which stands for 0: as on the flat.
func newOptional(d *ask.Dialogs, name string, stored float64) *numberField {
	f := &numberField{name: name, entry: d.Entry(name + ", if different"), empty: true}
	f.show(stored, 1)
	return f
}

func newNumberField(d *ask.Dialogs, name string, stored, scale float64) *numberField {
	f := &numberField{name: name, entry: d.Entry(name)}
	f.show(stored, scale)
	return f
}

// show writes a number with two decimals at most.
func (f *numberField) show(stored, scale float64) {
	f.stored, f.scale = stored, scale
	f.shown = strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(stored*scale, 'f', 2, 64), "0"), ".")
	if f.empty && stored == 0 {
		f.shown = ""
	}
	f.entry.SetText(f.shown)
}

// rescale writes the number in another unit. What is no number stays as it was typed.
func (f *numberField) rescale(scale float64) {
	if v, err := f.value(); err == nil {
		f.show(v, scale)
	}
	f.scale = scale
}

// value is the number as the plan stores it.
func (f *numberField) value() (float64, error) {
	if f.entry.Text == f.shown {
		return f.stored, nil
	}
	if f.empty && strings.TrimSpace(f.entry.Text) == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(f.entry.Text), ",", ".", 1), 64)
	if err != nil {
		return 0, fmt.Errorf("%s: %q is not a number", f.name, f.entry.Text)
	}
	return v / f.scale, nil
}
