package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// The bench's own sizes beside those Fyne knows.
const (
	// SizeLabel is the text size of labels over figures and of chips, in DIP.
	SizeLabel fyne.ThemeSizeName = "legwright-label"
	// SizeFigure is the text size of the figures under the dial, in DIP.
	SizeFigure fyne.ThemeSizeName = "legwright-figure"
	// SizeSet is the text size of the figure to set, in DIP. Its figures are
	// about 9 mm high on a screen of 96 pixels per inch, ten minutes of arc
	// from three metres.
	SizeSet fyne.ThemeSizeName = "legwright-set"
	// SizeGap is the space between groups in a panel, in DIP.
	SizeGap fyne.ThemeSizeName = "legwright-gap"
	// SizeTool is the side of a tool button, in DIP.
	SizeTool fyne.ThemeSizeName = "legwright-tool"
	// SizeHair is the thickness of a dividing line, in DIP.
	SizeHair fyne.ThemeSizeName = "legwright-hair"
)

// size returns the DIP of a size name, and false for a name that is not ours.
func size(name fyne.ThemeSizeName) (float32, bool) {
	switch name {
	case theme.SizeNamePadding:
		return 4, true
	case theme.SizeNameInnerPadding:
		return 7, true
	case theme.SizeNameLineSpacing:
		return 3, true
	case theme.SizeNameSeparatorThickness, theme.SizeNameInputBorder, SizeHair:
		return 1, true
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius, theme.SizeNameWindowButtonRadius, theme.SizeNameScrollBarRadius:
		return 0, true // square, like everything ruled with a pen
	case theme.SizeNameScrollBar:
		return 9, true
	case theme.SizeNameScrollBarSmall:
		return 3, true
	}
	return textSize(name)
}

func textSize(name fyne.ThemeSizeName) (float32, bool) {
	switch name {
	case theme.SizeNameText:
		return 13, true
	case theme.SizeNameCaptionText, SizeLabel:
		return 11, true
	case theme.SizeNameSubHeadingText:
		return 15, true
	case theme.SizeNameHeadingText:
		return 21, true
	case theme.SizeNameInlineIcon:
		return 18, true
	case SizeFigure:
		return 15, true
	case SizeSet:
		return 46, true
	case SizeGap:
		return 10, true
	case SizeTool:
		return 32, true
	}
	return 0, false
}
