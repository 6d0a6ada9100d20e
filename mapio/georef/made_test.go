package georef

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"io/fs"
	"testing"

	"legwright/mapio/scan"
)

// look reads a picture's header and finds its georeference.
func look(fsys fs.FS, name string, opt scan.Options) (scan.Header, *Georeference, error) {
	d, err := scan.NewOpener().Look(context.Background(), fsys, name, opt)
	return d.Header, Find(d).Georeference, err
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// ramp is a grey picture whose every pixel says where it is, modulo 256.
func ramp(w, h, step int) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = uint8(i * step)
	}
	return m
}
