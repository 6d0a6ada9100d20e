package look_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/assets/look"
)

var update = flag.Bool("update", false, "write the window's icon anew")

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

// TestAppIcon compares the window's icon with the large one, of which each of its pixels is
// the mean of four.
func TestAppIcon(t *testing.T) {
	t.Parallel()
	drawn, err := os.ReadFile("icon.png")
	if err != nil {
		t.Fatal(err)
	}
	large, err := png.Decode(bytes.NewReader(drawn))
	if err != nil {
		t.Fatal(err)
	}
	half := halved(large)
	if *update {
		var out bytes.Buffer
		if err := png.Encode(&out, half); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("window.png", out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	small, err := png.Decode(bytes.NewReader(look.AppPNG()))
	if err != nil || small.Bounds() != half.Bounds() || half.Rect.Dx() != 256 {
		t.Fatalf("got %v, %v, want 256×256", small.Bounds(), err)
	}
	for y := range half.Rect.Dy() {
		for x := range half.Rect.Dx() {
			if got, want := color.NRGBAModel.Convert(small.At(x, y)), half.At(x, y); got != want {
				t.Fatalf("pixel %d, %d is %v, want %v; run with -update", x, y, got, want)
			}
		}
	}
}

// halved is a picture of half the size.
func halved(p image.Image) *image.NRGBA {
	out := image.NewNRGBA(image.Rect(0, 0, p.Bounds().Dx()/2, p.Bounds().Dy()/2))
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			var sum [4]uint32
			for _, d := range []image.Point{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
				r, g, b, a := p.At(2*x+d.X, 2*y+d.Y).RGBA()
				sum[0], sum[1], sum[2], sum[3] = sum[0]+r, sum[1]+g, sum[2]+b, sum[3]+a
			}
			out.Set(x, y, color.RGBA64{uint16(sum[0] / 4), uint16(sum[1] / 4), uint16(sum[2] / 4), uint16(sum[3] / 4)})
		}
	}
	return out
}
