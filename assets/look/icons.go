package look

import (
	"embed"
	"errors"
	"fmt"
)

//go:embed icons/*.svg
var icons embed.FS

//go:embed window.png
var appPNG []byte

// ErrNoIcon says that no icon has the name asked for.
var ErrNoIcon = errors.New("look: no such icon")

// Icon returns an icon as SVG made of filled paths alone, drawn on a square of
// 18 units, or an error that wraps ErrNoIcon. Its name is that of its
// file in icons, without the ending.
func Icon(name string) ([]byte, error) {
	data, err := icons.ReadFile("icons/" + name + ".svg")
	if err != nil {
		return nil, fmt.Errorf("%w: %q", ErrNoIcon, name)
	}
	return data, nil
}

// AppPNG returns the program's own icon as a PNG of 256 by 256 pixels, half as large as the
// drawing in icon.png: every start reads it before the first frame. The caller must not change
// the bytes.
func AppPNG() []byte { return appPNG }
