// Package look holds the embedded typeface of the program's windows, cards and
// sheets and its icons, all as plain bytes. It is not a theme: colours, sizes
// and drawing belong to the rooms that use it, and it imports nothing of ours.
// The icons are our own: filled paths alone, since Fyne recolours nothing else.
//
// The face is B612, made for instrument panels, with figures of one width. Its
// licence, the SIL Open Font License 1.1, stands in assets/notices. Names of
// places come in other scripts too: DejaVu Sans, whose licence stands there as
// well, has the Cyrillic, Hebrew and Arabic letters among others, though no
// Chinese, Japanese or Korean ones.
package look

import _ "embed"

//go:embed fonts/B612-Regular.otf
var regular []byte

//go:embed fonts/B612-Bold.otf
var bold []byte

//go:embed fonts/B612-Italic.otf
var italic []byte

//go:embed fonts/B612-BoldItalic.otf
var boldItalic []byte

//go:embed fonts/B612Mono-Regular.otf
var mono []byte

//go:embed fonts/DejaVuSans.ttf
var wide []byte

//go:embed fonts/DejaVuSans-Bold.ttf
var wideBold []byte

// Regular returns B612 Regular as an OpenType file. The caller must not change the bytes.
func Regular() []byte { return regular }

// Bold returns B612 Bold as an OpenType file. The caller must not change the bytes.
func Bold() []byte { return bold }

// Italic returns B612 Italic as an OpenType file. The caller must not change the bytes.
func Italic() []byte { return italic }

// BoldItalic returns B612 Bold Italic as an OpenType file. The caller must not change the bytes.
func BoldItalic() []byte { return boldItalic }

// Mono returns B612 Mono Regular as an OpenType file. The caller must not change the bytes.
func Mono() []byte { return mono }

// Wide returns DejaVu Sans as a TrueType file, for letters that B612 lacks. The caller must not change the bytes.
func Wide() []byte { return wide }

// WideBold returns DejaVu Sans Bold as a TrueType file. The caller must not change the bytes.
func WideBold() []byte { return wideBold }
