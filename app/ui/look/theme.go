package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	face "legwright/assets/look"
)

// Mode says which variant the bench shows.
type Mode int

// Follow takes the variant the desktop asks for; LightMode and DarkMode are the
// user's own choice.
const (
	Follow Mode = iota
	LightMode
	DarkMode
)

// The bench's own colours beside those Fyne knows, to be asked for through the
// theme like any other.
const (
	ColorBoard       fyne.ThemeColorName = "legwright-board"
	ColorQuiet       fyne.ThemeColorName = "legwright-quiet"
	ColorEdge        fyne.ThemeColorName = "legwright-edge"
	ColorCaution     fyne.ThemeColorName = "legwright-caution"
	ColorCautionWash fyne.ThemeColorName = "legwright-caution-wash"
	ColorFault       fyne.ThemeColorName = "legwright-fault"
	ColorFaultWash   fyne.ThemeColorName = "legwright-fault-wash"
	ColorGood        fyne.ThemeColorName = "legwright-good"
	ColorGoodWash    fyne.ThemeColorName = "legwright-good-wash"
)

// Theme is the bench's Fyne theme. It is immutable: another mode is another
// Theme, set anew. It keeps the icons that it has coloured.
type Theme struct {
	mode        Mode
	light, dark Palette
	fonts       fonts
	coloured    *colouredIcons
}

type fonts struct{ regular, bold, italic, boldItalic, mono fyne.Resource }

// New returns the theme in a mode. Give it to the application's settings.
func New(mode Mode) *Theme {
	return &Theme{
		mode: mode, light: Light(), dark: Dark(), coloured: &colouredIcons{data: map[colouredIcon][]byte{}},
		fonts: fonts{
			regular:    fyne.NewStaticResource("B612-Regular.otf", face.Regular()),
			bold:       fyne.NewStaticResource("B612-Bold.otf", face.Bold()),
			italic:     fyne.NewStaticResource("B612-Italic.otf", face.Italic()),
			boldItalic: fyne.NewStaticResource("B612-BoldItalic.otf", face.BoldItalic()),
			mono:       fyne.NewStaticResource("B612Mono-Regular.otf", face.Mono()),
		},
	}
}

// Current returns the palette the running application shows now, so that a
// drawn picture can follow it. Without our theme it is the palette nearest to
// the variant in force.
func Current() Palette {
	app := fyne.CurrentApp()
	if app == nil {
		return Light()
	}
	settings := app.Settings()
	if own, ok := settings.Theme().(*Theme); ok {
		return own.Palette(settings.ThemeVariant())
	}
	return New(Follow).Palette(settings.ThemeVariant())
}

// Mode returns the mode the theme was made with.
func (t *Theme) Mode() Mode { return t.mode }

// IsDark reports whether the theme shows its dark palette where the desktop
// asks for the given variant.
func (t *Theme) IsDark(v fyne.ThemeVariant) bool {
	return t.mode == DarkMode || (t.mode == Follow && v == theme.VariantDark)
}

// Palette returns the palette shown where the desktop asks for a variant.
func (t *Theme) Palette(v fyne.ThemeVariant) Palette {
	if t.IsDark(v) {
		return t.dark
	}
	return t.light
}

// Size returns the DIP of a size name; names that are not ours are Fyne's.
func (t *Theme) Size(name fyne.ThemeSizeName) float32 {
	if s, ok := size(name); ok {
		return s
	}
	return theme.DefaultTheme().Size(name)
}

// Font returns the B612 face of a text style.
func (t *Theme) Font(style fyne.TextStyle) fyne.Resource {
	switch {
	case style.Symbol:
		return theme.DefaultTheme().Font(style)
	case style.Monospace:
		return t.fonts.mono
	case style.Bold && style.Italic:
		return t.fonts.boldItalic
	case style.Bold:
		return t.fonts.bold
	case style.Italic:
		return t.fonts.italic
	}
	return t.fonts.regular
}

// Color returns the colour of a name in the palette of the variant; a name
// that is not known is Fyne's own.
func (t *Theme) Color(name fyne.ThemeColorName, v fyne.ThemeVariant) color.Color {
	p := t.Palette(v)
	if c, ok := p.surface(name); ok {
		return c
	}
	if c, ok := p.mark(name); ok {
		return c
	}
	return theme.DefaultTheme().Color(name, v)
}

// surface returns the colours of what lies below text.
func (p Palette) surface(name fyne.ThemeColorName) (color.Color, bool) {
	switch name {
	case theme.ColorNameBackground:
		return p[Paper], true
	case theme.ColorNameHeaderBackground, theme.ColorNameMenuBackground, ColorBoard:
		return p[Board], true
	case theme.ColorNameOverlayBackground:
		return p[Paper], true
	case theme.ColorNameInputBackground:
		return p[Well], true
	case theme.ColorNameButton, theme.ColorNameDisabledButton:
		return p[Key], true
	case theme.ColorNameHover:
		return p[Hover], true
	case theme.ColorNamePressed:
		return p[Press], true
	case theme.ColorNameSelection, theme.ColorNameFocus: // laid under text by Fyne
		return p[Select], true
	case theme.ColorNameShadow:
		return p[Shade], true
	case theme.ColorNameScrollBarBackground:
		return color.Transparent, true
	case ColorCautionWash:
		return p[CautionWash], true
	case ColorFaultWash:
		return p[FaultWash], true
	case ColorGoodWash:
		return p[GoodWash], true
	}
	return nil, false
}

// mark returns the colours of text, lines and icons.
func (p Palette) mark(name fyne.ThemeColorName) (color.Color, bool) {
	switch name {
	case theme.ColorNameForeground:
		return p[Ink], true
	case theme.ColorNamePlaceHolder, ColorQuiet:
		return p[Quiet], true
	case theme.ColorNameDisabled:
		return p[Faint], true
	case theme.ColorNameSeparator:
		return p[Hair], true
	case theme.ColorNameInputBorder, theme.ColorNameScrollBar, ColorEdge:
		return p[Edge], true
	case theme.ColorNamePrimary, theme.ColorNameHyperlink:
		return p[Accent], true
	case theme.ColorNameForegroundOnPrimary:
		return p[OnAccent], true
	case theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnSuccess, theme.ColorNameForegroundOnWarning:
		return p[Paper], true
	case theme.ColorNameError, ColorFault:
		return p[Fault], true
	case theme.ColorNameWarning, ColorCaution:
		return p[Caution], true
	case theme.ColorNameSuccess, ColorGood:
		return p[Good], true
	}
	return nil, false
}
