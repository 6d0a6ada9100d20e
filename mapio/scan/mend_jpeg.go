package scan

import (
	"image"

	"legwright/mapio/jpg"
)

// mendJPEG paints the rows that the data does not reach grey, where the walk
// found something wrong, and says so. The decoder itself fills them with the
// last colour it had.
func mendJPEG(img image.Image, v jpg.Report, s *Scan) {
	if rows := s.report(v, img.Bounds().Dy()); s.Truncated && !s.Header.Progressive {
		paintBelow(img, rows)
	}
}

// report puts a verdict on a picture of so many stored rows into words, and
// gives the number of rows that the data reaches.
func (s *Scan) report(v jpg.Report, all int) int {
	rows := min(max(v.Rows, 0), all)
	if v.Sound() {
		return rows
	}
	s.Truncated = rows < all || s.Header.Progressive
	switch {
	case s.Header.Progressive:
		s.warn("this JPEG is cut off or damaged: it is shown as far as it came, without its finest detail; copy it again from where it came")
	case rows < all && v.Damaged:
		s.warn("this JPEG is damaged: below row %d nothing could be decoded and what is above may be out of place: "+
			"do not measure on it, copy it again from where it came", rows)
	case rows < all:
		s.warn("this JPEG is cut off: the upper %d of %d rows are shown, the rest is blank; copy it again from where it came", rows, all)
	case v.Damaged:
		s.warn("this JPEG is damaged and parts of it may be out of place: do not measure on it, copy it again from where it came")
	default:
		s.warn("the end mark of this JPEG is missing; the picture itself is complete")
	}
	return rows
}

// paintBelow makes all rows from y on mid-grey.
func paintBelow(img image.Image, y int) {
	switch m := img.(type) {
	case *image.Gray:
		fill(m.Pix[m.PixOffset(0, y):], 128)
	case *image.YCbCr:
		fill(m.Y[m.YOffset(0, y):], 128)
		fill(m.Cb[m.COffset(0, y):], 128)
		fill(m.Cr[m.COffset(0, y):], 128)
	case *image.RGBA:
		for i := m.PixOffset(0, y); i+4 <= len(m.Pix); i += 4 {
			copy(m.Pix[i:i+4], []uint8{128, 128, 128, 255})
		}
	}
}

func fill(b []uint8, v uint8) {
	for i := range b {
		b[i] = v
	}
}
