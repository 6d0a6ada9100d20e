package xdisplay

import (
	"encoding/binary"
	"fmt"
	"image"
)

// xwdHeader names the words of the X window dump header that matter here, by
// their place (X11 XWDFile.h, version 7).
const (
	xwdHeaderSize   = 0
	xwdWidth        = 4
	xwdHeight       = 5
	xwdByteOrder    = 7
	xwdBitsPerPixel = 11
	xwdBytesPerLine = 12
	xwdColours      = 19
	xwdWords        = 25
)

// decodeXWD reads the frame buffer file that Xvfb keeps: an X window dump of
// 32 bits a pixel, blue in the lowest byte.
func decodeXWD(raw []byte) (*image.RGBA, error) {
	if len(raw) < xwdWords*4 {
		return nil, fmt.Errorf("frame buffer of %d bytes has no header", len(raw))
	}
	word := func(i int) int { return int(binary.BigEndian.Uint32(raw[4*i:])) }
	w, h, line := word(xwdWidth), word(xwdHeight), word(xwdBytesPerLine)
	if word(xwdBitsPerPixel) != 32 || word(xwdByteOrder) != 0 {
		return nil, fmt.Errorf("frame buffer with %d bits a pixel, order %d: want 32, 0",
			word(xwdBitsPerPixel), word(xwdByteOrder))
	}
	at := word(xwdHeaderSize) + 12*word(xwdColours)
	if w <= 0 || h <= 0 || line < 4*w || at < 0 || at+line*h > len(raw) {
		return nil, fmt.Errorf("frame buffer header does not fit its %d bytes", len(raw))
	}
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		src, dst := raw[at+y*line:], img.Pix[y*img.Stride:]
		for x := range w {
			dst[4*x], dst[4*x+1], dst[4*x+2], dst[4*x+3] = src[4*x+2], src[4*x+1], src[4*x], 255
		}
	}
	return img, nil
}
