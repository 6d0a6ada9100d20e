package ui

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// Several errors at once stand on the one line that there is.
func TestFootLineHasOneLine(t *testing.T) {
	test.NewTempApp(t)
	f := newFootline()
	f.Resize(fyne.NewSize(900, footHeight))
	f.show(footText{Message: sentence(errors.Join(errors.New("remove a.sheet: denied"), errors.New("remove\tb.sheet: denied")))})
	if got, want := test.WidgetRenderer(f).(*footRenderer).parts[footMessage].Text, "Remove a.sheet: denied; remove b.sheet: denied."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
