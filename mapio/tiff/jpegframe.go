package tiff

import (
	"encoding/binary"
	"image"
)

// frame is what the start of a JPEG frame says.
type frame struct {
	size  image.Point
	parts int
	sub   image.Point // of the second part against the first
}

// frameOf finds the start of the frame.
func frameOf(data []byte) (frame, bool) {
	for i := 2; i+4 <= len(data); {
		if data[i] != 0xff {
			return frame{}, false
		}
		kind := data[i+1]
		if kind == 0xff {
			i++
			continue
		}
		if kind == 0xd8 || kind == 0x01 {
			i += 2
			continue
		}
		size := int(binary.BigEndian.Uint16(data[i+2:]))
		if size < 2 || kind == 0xda || kind == 0xd9 {
			return frame{}, false
		}
		if kind >= 0xc0 && kind <= 0xcf && kind != 0xc4 && kind != 0xc8 && kind != 0xcc {
			return readFrame(data[i+4 : min(len(data), i+2+size)])
		}
		i += 2 + size
	}
	return frame{}, false
}

// readFrame reads precision, size and the parts with their sampling factors
// (ITU-T T.81, B.2.2).
func readFrame(b []byte) (frame, bool) {
	if len(b) < 6 || len(b) < 6+3*int(b[5]) {
		return frame{}, false
	}
	f := frame{size: image.Pt(int(binary.BigEndian.Uint16(b[3:])), int(binary.BigEndian.Uint16(b[1:]))), parts: int(b[5]), sub: image.Pt(1, 1)}
	if f.parts >= 3 {
		h0, v0, h1, v1 := int(b[7]>>4), int(b[7]&15), int(b[10]>>4), int(b[10]&15)
		if h1 == 0 || v1 == 0 {
			return frame{}, false
		}
		f.sub = image.Pt(h0/h1, v0/v1)
	}
	return f, true
}
