package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
)

// scaleOf is how many physical pixels a unit of the window measures.
func scaleOf(o fyne.CanvasObject) float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil {
		return c.Scale()
	}
	return 1
}

// lengthLabel writes a round length for a scale bar.
func lengthLabel(m float64) string {
	if m >= 1000 {
		return fmt.Sprintf("%g km", m/1000)
	}
	return fmt.Sprintf("%g m", m)
}
