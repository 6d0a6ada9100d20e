package tiff

import (
	"bytes"
	"encoding/binary"
	"errors"
	"testing"
)

// TestFields: the numbers of a structure that is not a picture, of the directory
// that one of them points to as well; a texts and what lies
// beyond the end are passed over.
func TestFields(t *testing.T) {
	t.Parallel()
	const camera, exposure = 34665, 33434
	for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
		b := newBuilder(order, false)
		sub := b.directory(tagged{exposure, 5, []float64{0.25}}, short(tagOrientation, 8))
		b.page(short(tagOrientation, 6), tagged{tagXResolution, 5, []float64{300}}, ascii(tagNoData, "text"), long(camera, float64(sub)))
		r := bytes.NewReader(b.out)
		got, err := Fields(r, r.Size(), camera, 999)
		if err != nil || got[tagOrientation] != 6 || got[tagXResolution] != 300 || got[exposure] != 0.25 {
			t.Errorf("got %v, %v, want orientation 6, 300 and 0.25", got, err)
		}
		if got, err := Fields(r, r.Size()); err != nil || got[exposure] != 0 {
			t.Errorf("without the camera's: got %v, %v", got, err)
		}
		cut := bytes.NewReader(b.out[:len(b.out)-4])
		if _, err := Fields(cut, 12); !errors.Is(err, ErrTruncated) {
			t.Errorf("cut off: got %v, want ErrTruncated", err)
		}
	}
	if _, err := Fields(bytes.NewReader([]byte("no structure")), 12); !errors.Is(err, ErrNotTIFF) {
		t.Errorf("no structure: got %v, want ErrNotTIFF", err)
	}
}
