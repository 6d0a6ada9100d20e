package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	face "legwright/assets/look"
)

// The bench's icons. Fyne recolours what is filled, so they follow the theme.
const (
	IconSave     fyne.ThemeIconName = "save"
	IconUndo     fyne.ThemeIconName = "undo"
	IconRedo     fyne.ThemeIconName = "redo"
	IconMark     fyne.ThemeIconName = "mark"
	IconFit      fyne.ThemeIconName = "fit"
	IconZoomIn   fyne.ThemeIconName = "zoom-in"
	IconZoomOut  fyne.ThemeIconName = "zoom-out"
	IconFold     fyne.ThemeIconName = "fold"
	IconUnfold   fyne.ThemeIconName = "unfold"
	IconDelete   fyne.ThemeIconName = "delete"
	IconHelp     fyne.ThemeIconName = "help"
	IconCaution  fyne.ThemeIconName = "caution"
	IconFault    fyne.ThemeIconName = "fault"
	IconInfo     fyne.ThemeIconName = "info"
	IconSheet    fyne.ThemeIconName = "sheet"
	IconRoute    fyne.ThemeIconName = "route"
	IconScreen   fyne.ThemeIconName = "screen"
	IconAdd      fyne.ThemeIconName = "add"
	IconRemove   fyne.ThemeIconName = "remove"
	IconClose    fyne.ThemeIconName = "close"
	IconConfirm  fyne.ThemeIconName = "confirm"
	IconUp       fyne.ThemeIconName = "up"
	IconDown     fyne.ThemeIconName = "down"
	IconLeft     fyne.ThemeIconName = "left"
	IconRight    fyne.ThemeIconName = "right"
	IconMore     fyne.ThemeIconName = "more"
	IconSearch   fyne.ThemeIconName = "search"
	IconFolder   fyne.ThemeIconName = "folder"
	IconDocument fyne.ThemeIconName = "document"
	IconCopy     fyne.ThemeIconName = "copy"
)

// IconIn returns an icon in one of the theme's colours, nil for an unknown
// name.
func IconIn(name fyne.ThemeIconName, ink fyne.ThemeColorName) fyne.Resource {
	data, err := face.Icon(string(name))
	if err != nil {
		return nil
	}
	return theme.NewColoredResource(fyne.NewStaticResource(string(name)+".svg", data), ink)
}

// AppIcon returns the program's own icon for the window and the desktop.
func AppIcon() fyne.Resource {
	return fyne.NewStaticResource("legwright.png", face.AppPNG())
}

// Icon returns our own drawing for one of Fyne's icon names or one of ours, so
// that no stock icon stands between them; what we do not draw is Fyne's.
func (t *Theme) Icon(name fyne.ThemeIconName) fyne.Resource {
	own, ok := ownIcon(name)
	if !ok {
		own = name
	}
	data, err := face.Icon(string(own))
	if err != nil {
		return theme.DefaultTheme().Icon(name)
	}
	// Fyne colours what it takes from a theme by itself where it needs another
	// colour than that of text.
	return theme.NewThemedResource(fyne.NewStaticResource(string(own)+".svg", data))
}

// ownIcon returns the name of our drawing for a name of Fyne's.
func ownIcon(name fyne.ThemeIconName) (fyne.ThemeIconName, bool) {
	if own, ok := switchIcon(name); ok {
		return own, true
	}
	switch name {
	case theme.IconNameCancel, theme.IconNameContentClear, theme.IconNameWindowClose:
		return IconClose, true
	case theme.IconNameConfirm:
		return IconConfirm, true
	case theme.IconNameDelete:
		return IconDelete, true
	case theme.IconNameSearch, theme.IconNameSearchReplace:
		return IconSearch, true
	case theme.IconNameContentAdd:
		return IconAdd, true
	case theme.IconNameContentRemove:
		return IconRemove, true
	case theme.IconNameContentCopy:
		return IconCopy, true
	case theme.IconNameContentUndo:
		return IconUndo, true
	case theme.IconNameContentRedo:
		return IconRedo, true
	case theme.IconNameInfo:
		return IconInfo, true
	case theme.IconNameQuestion, theme.IconNameHelp:
		return IconHelp, true
	case theme.IconNameWarning:
		return IconCaution, true
	case theme.IconNameError:
		return IconFault, true
	case theme.IconNameDocumentSave:
		return IconSave, true
	}
	return placeIcon(name)
}

func switchIcon(name fyne.ThemeIconName) (fyne.ThemeIconName, bool) {
	switch name {
	case theme.IconNameCheckButton:
		return "box", true
	case theme.IconNameCheckButtonChecked:
		return "box-on", true
	case theme.IconNameCheckButtonPartial:
		return "box-part", true
	case theme.IconNameCheckButtonFill:
		return "box-fill", true
	case theme.IconNameRadioButton:
		return "round", true
	case theme.IconNameRadioButtonChecked:
		return "round-on", true
	case theme.IconNameRadioButtonFill:
		return "round-fill", true
	case theme.IconNameVisibility:
		return "eye", true
	case theme.IconNameVisibilityOff:
		return "eye-off", true
	case theme.IconNameMenu:
		return "menu", true
	case theme.IconNameMoreHorizontal, theme.IconNameMoreVertical:
		return IconMore, true
	}
	return "", false
}

func placeIcon(name fyne.ThemeIconName) (fyne.ThemeIconName, bool) {
	switch name {
	case theme.IconNameMenuExpand, theme.IconNameNavigateNext:
		return IconRight, true
	case theme.IconNameNavigateBack:
		return IconLeft, true
	case theme.IconNameArrowDropDown, theme.IconNameMoveDown:
		return IconDown, true
	case theme.IconNameArrowDropUp, theme.IconNameMoveUp:
		return IconUp, true
	case theme.IconNameFolder, theme.IconNameFolderOpen, theme.IconNameFolderNew:
		return IconFolder, true
	case theme.IconNameDocument, theme.IconNameFile, theme.IconNameFileText:
		return IconDocument, true
	case theme.IconNameFileImage:
		return IconSheet, true
	case theme.IconNameViewZoomIn:
		return IconZoomIn, true
	case theme.IconNameViewZoomOut:
		return IconZoomOut, true
	case theme.IconNameViewZoomFit, theme.IconNameViewFullScreen:
		return IconFit, true
	}
	return "", false
}
