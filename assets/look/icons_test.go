package look_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"legwright/assets/look"
)

// TestIconsAreFilledPaths reads every icon: only filled paths may stand in it,
// because Fyne recolours fill alone and drops elements it does not know.
func TestIconsAreFilledPaths(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("icons/*.svg")
	if err != nil || len(files) < 30 {
		t.Fatalf("got %d icons, %v, want 30 or more", len(files), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".svg")
		data, err := look.Icon(name)
		if err != nil {
			t.Fatalf("icon %q: %v", name, err)
		}
		paths := 0
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("icon %q: %v", name, err)
			}
			start, ok := token.(xml.StartElement)
			if !ok || start.Name.Local == "svg" {
				continue
			}
			paths++
			for _, a := range start.Attr {
				if start.Name.Local != "path" || (a.Name.Local != "fill" && a.Name.Local != "d") {
					t.Errorf("icon %q: got <%s %s>, want <path> with fill and d alone", name, start.Name.Local, a.Name.Local)
				}
			}
		}
		if paths == 0 {
			t.Errorf("icon %q: got no path, want a drawing", name)
		}
	}
}

func TestIconUnknown(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"", "none", "../icon"} {
		if _, err := look.Icon(name); !errors.Is(err, look.ErrNoIcon) {
			t.Errorf("icon %q: got error %v, want ErrNoIcon", name, err)
		}
	}
}

func TestAppIconSize(t *testing.T) {
	t.Parallel()
	c, err := png.DecodeConfig(bytes.NewReader(look.AppPNG()))
	if err != nil || c.Width != 512 || c.Height != 512 {
		t.Errorf("got %d×%d, %v, want 512×512", c.Width, c.Height, err)
	}
}
