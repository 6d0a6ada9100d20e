package scan

import (
	"bytes"
	"encoding/binary"
	"image"
	"testing"

	"legwright/app/calib"
)

// cameraBlock is an EXIF block whose first directory names a maker and points
// to a second with the figures given, each a ratio (EXIF 2.3, JEITA CP-3451).
func cameraBlock(order binary.ByteOrder, at uint32, tags ...uint16) []byte {
	var w bytes.Buffer
	put := func(v any) {
		if err := binary.Write(&w, order, v); err != nil {
			panic(err)
		}
	}
	w.WriteString(map[bool]string{true: "MM\x00*", false: "II*\x00"}[order == binary.ByteOrder(binary.BigEndian)])
	put(uint32(8))
	put(uint16(2))
	put([]uint16{271, 2}) // maker, text
	put([]uint32{4, 0x41424300})
	put([]uint16{tagExif, 4})
	put([]uint32{1, at})
	put(uint32(0))
	put(uint16(len(tags))) // at byte 38
	for _, tag := range tags {
		put([]uint16{tag, 5})
		put([]uint32{1, uint32(38 + 2 + 12*len(tags) + 4)})
	}
	put(uint32(0))
	put([]uint32{1, 125})
	return w.Bytes()
}

// A camera is recognised by what it writes of exposure, aperture or focal length; a
// maker's name alone is a scanner's too. A directory that is not where the
// file points changes nothing.
func TestPhotographIsTold(t *testing.T) {
	t.Parallel()
	m := image.NewGray(image.Rect(0, 0, 40, 30))
	for _, tc := range []struct {
		name  string
		block []byte
		want  bool
	}{
		{"exposure", cameraBlock(binary.BigEndian, 38, tagExposure), true},
		{"aperture and focal length", cameraBlock(binary.LittleEndian, 38, tagAperture, tagFocal), true},
		{"maker alone", cameraBlock(binary.BigEndian, 38), false},
		{"directory beyond the end", cameraBlock(binary.BigEndian, 4_000_000_000, tagExposure), false},
		{"directory that points to itself", cameraBlock(binary.BigEndian, 8, tagExposure), false},
		{"a scan's", exifBlock(binary.BigEndian, 1, 300), false},
	} {
		for name, data := range map[string][]byte{
			"a.jpg": withSegment(jpegOf(t, m), 0xe1, append([]byte("Exif\x00\x00"), tc.block...)),
			"a.png": withChunk(pngOf(t, m), "eXIf", tc.block),
		} {
			h := openBytes(t, name, data).Header
			if (h.Medium == calib.Photograph) != tc.want || h.Medium == calib.Photograph && h.DPI != 0 {
				t.Errorf("%s, %s: photograph %v at %g dpi, want %v and none of a photograph", tc.name, name, h.Medium == calib.Photograph, h.DPI, tc.want)
			}
		}
	}
}
