package main

import (
	"bytes"
	"image/png"
	"os"
	"strings"

	"github.com/gen2brain/jpegn"
	"golang.org/x/image/tiff"
)

// decodeEighth is the decoder's own reduced decode.
func decodeEighth(file string) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	_, err = jpegn.Decode(bytes.NewReader(raw), &jpegn.Options{ScaleDenom: 8})
	return err
}

// decodeBare is the decoder's full decode and nothing else.
func decodeBare(file string) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	in := bytes.NewReader(raw)
	switch {
	case strings.HasSuffix(file, ".png"):
		_, err = png.Decode(in)
	case strings.HasSuffix(file, ".tif"):
		_, err = tiff.Decode(in)
	default:
		_, err = jpegn.Decode(in)
	}
	return err
}
