package headless

import (
	"bytes"
	"image"
	"image/jpeg"
	"sync"
	"testing"

	"github.com/disintegration/imaging"

	"legwright/assets/demo"
)

// The tests that look for a printed grid do so in a piece of the demo's scan at
// half its size; the finder's own tests search the whole.
const (
	cutLeft, cutTop     = 1400, 1900
	cutWidth, cutHeight = 850, 650
)

// cutMatrix is the true position of the piece.
func cutMatrix() [6]float64 {
	m := demo.ScanTruth().Matrix
	m[2] += m[0]*cutLeft + m[1]*cutTop
	m[5] += m[3]*cutLeft + m[4]*cutTop
	for _, i := range []int{0, 1, 3, 4} {
		m[i] *= 2
	}
	return m
}

var encodeCut = sync.OnceValues(func() ([]byte, error) {
	whole, err := jpeg.Decode(bytes.NewReader(demo.Scan()))
	if err != nil {
		return nil, err
	}
	piece := whole.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(image.Rect(cutLeft, cutTop, cutLeft+2*cutWidth, cutTop+2*cutHeight))
	piece = imaging.Resize(piece, cutWidth, cutHeight, imaging.Box)
	var b bytes.Buffer
	err = jpeg.Encode(&b, piece, &jpeg.Options{Quality: 90})
	return b.Bytes(), err
})

// cutScan is the piece as a JPEG.
func cutScan(t *testing.T) []byte {
	t.Helper()
	data, err := encodeCut()
	if err != nil {
		t.Fatal(err)
	}
	return data
}
