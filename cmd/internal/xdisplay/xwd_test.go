package xdisplay

import (
	"encoding/binary"
	"image/color"
	"testing"
)

// dump makes an X window dump by the layout of XWDFile.h.
func dump(w, h, bits int, pixels []byte) []byte {
	words := make([]uint32, xwdWords)
	words[xwdHeaderSize] = xwdWords * 4
	words[xwdWidth], words[xwdHeight] = uint32(w), uint32(h)
	words[xwdBitsPerPixel], words[xwdBytesPerLine] = uint32(bits), uint32(4*w)
	var raw []byte
	for _, v := range words {
		raw = binary.BigEndian.AppendUint32(raw, v)
	}
	return append(raw, pixels...)
}

func TestDecodeXWD(t *testing.T) {
	t.Parallel()
	img, err := decodeXWD(dump(2, 1, 32, []byte{3, 2, 1, 0, 30, 20, 10, 0}))
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range []color.RGBA{{1, 2, 3, 255}, {10, 20, 30, 255}} {
		if got := img.RGBAAt(x, 0); got != want {
			t.Errorf("pixel %d = %v, want %v", x, got, want)
		}
	}
}

func TestDecodeXWDRefuses(t *testing.T) {
	t.Parallel()
	for name, raw := range map[string][]byte{
		"empty":        nil,
		"16 bits":      dump(1, 1, 16, make([]byte, 4)),
		"short pixels": dump(4, 4, 32, make([]byte, 8)),
	} {
		if _, err := decodeXWD(raw); err == nil {
			t.Errorf("%s: got a picture, want an error", name)
		}
	}
}
