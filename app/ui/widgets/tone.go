package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"legwright/app/ui/look"
)

// Tone says how much a chip or a sentence weighs.
type Tone int

// Note states a fact, Caution marks a reading that cannot be trusted as it
// stands, Fault something that failed, Good something that agrees.
const (
	Note Tone = iota
	Caution
	Fault
	Good
)

// colours returns the names of the tone's text and wash.
func (t Tone) colours() (text, wash fyne.ThemeColorName) {
	switch t {
	case Caution:
		return look.ColorCaution, look.ColorCautionWash
	case Fault:
		return look.ColorFault, look.ColorFaultWash
	case Good:
		return look.ColorGood, look.ColorGoodWash
	}
	return theme.ColorNameForeground, theme.ColorNameButton
}
