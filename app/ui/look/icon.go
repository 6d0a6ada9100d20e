package look

import (
	"image/color"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
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
	return &icon{name: string(name), ink: ink, drawing: data}
}

// icon is a drawing in a colour of the theme in force.
type icon struct {
	name    string
	ink     fyne.ThemeColorName
	drawing []byte
}

// Name tells icons apart, in each of the theme's colours.
func (i *icon) Name() string { return string(i.ink) + "_" + i.name + ".svg" }

// ThemeColorName is the name of the icon's colour.
func (i *icon) ThemeColorName() fyne.ThemeColorName { return i.ink }

// Content is the drawing in the colour that the theme has now.
func (i *icon) Content() []byte {
	ink := theme.Color(i.ink)
	if own, ok := fyne.CurrentApp().Settings().Theme().(*Theme); ok {
		return own.coloured.in(i, ink)
	}
	return i.in(ink)
}

// in colours the drawing, which stays as it is where that fails.
func (i *icon) in(ink color.Color) []byte {
	data, err := canvas.RecolorSVG(i.drawing, ink)
	if err != nil {
		fyne.LogError("An icon cannot be coloured", err)
	}
	return data
}

// colouredIcons keeps the icons in the colours that were asked for. The toolkit asks
// anew whenever a widget with an icon is drawn again, and to colour a drawing takes
// reading it and writing it.
type colouredIcons struct {
	mu   sync.Mutex
	data map[colouredIcon][]byte
}

type colouredIcon struct {
	name string
	ink  color.RGBA64
}

// in is the drawing of an icon in a colour.
func (c *colouredIcons) in(i *icon, ink color.Color) []byte {
	key := colouredIcon{i.name, color.RGBA64Model.Convert(ink).(color.RGBA64)}
	c.mu.Lock()
	defer c.mu.Unlock()
	data, ok := c.data[key]
	if !ok {
		data = i.in(ink)
		c.data[key] = data
	}
	return data
}

// WindowClass is the class of every window under X11, by which a desktop knows whose it is:
// StartupWMClass of legwright.desktop. It is the title that a window is first shown with.
const WindowClass = "Legwright"

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
	// Fyne colours what it takes from a theme by itself where it needs another
	// colour than that of text.
	if drawn := IconIn(own, theme.ColorNameForeground); drawn != nil {
		return drawn
	}
	return theme.DefaultTheme().Icon(name)
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
