package look

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

//go:embed icons/*.svg
var icons embed.FS

//go:embed icon.svg
var appSVG []byte

//go:embed icon.png
var appPNG []byte

// ErrNoIcon says that no icon has the name asked for.
var ErrNoIcon = errors.New("look: no such icon")

// Icon returns an icon as SVG made of filled paths alone, drawn on a square of
// 18 units, or an error that wraps ErrNoIcon. Names are those of IconNames.
func Icon(name string) ([]byte, error) {
	data, err := icons.ReadFile("icons/" + name + ".svg")
	if err != nil {
		return nil, fmt.Errorf("%w: %q", ErrNoIcon, name)
	}
	return data, nil
}

// IconNames lists the icons in the order of the alphabet.
func IconNames() []string {
	paths, err := fs.Glob(icons, "icons/*.svg")
	if err != nil {
		panic(err) // the pattern is constant
	}
	names := make([]string, 0, len(paths))
	for _, p := range paths {
		names = append(names, strings.TrimSuffix(strings.TrimPrefix(p, "icons/"), ".svg"))
	}
	slices.Sort(names)
	return names
}

// AppPNG returns the program's own icon as a PNG of 512 by 512 pixels. The
// caller must not change the bytes.
func AppPNG() []byte { return appPNG }

// AppSVG returns the program's own icon as SVG. The caller must not change the
// bytes.
func AppSVG() []byte { return appSVG }
