package ui

import (
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/ui/widgets"
)

// said is all that the Sheet panel says of the sheet's check.
func said(b *Bench) string {
	var out []string
	var walk func(fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widgets.Sentence:
			out = append(out, o.Text())
		case *fyne.Container:
			for _, c := range o.Objects {
				walk(c)
			}
		}
	}
	walk(b.sheetP.checks.rows)
	return strings.Join(out, "\n")
}
