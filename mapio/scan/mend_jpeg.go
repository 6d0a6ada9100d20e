package scan

import (
	"bytes"
	"image"
)

// jpegAudit follows the marker structure of a JPEG written to it: whether the
// end mark comes, and whether what stands between is well formed.
type jpegAudit struct {
	state   auditState
	skip    int  // bytes of a segment still to come
	length  int  // first byte of a segment's length
	scan    bool // the segment is the header of a scan: data follows it
	ended   bool
	damaged bool
	restart byte // expected number of the next restart marker
}

type auditState int

const (
	auditMarker auditState = iota // expects 0xff
	auditCode                     // expects the code behind 0xff
	auditLengthHigh
	auditLengthLow
	auditSkip
	auditScan     // entropy-coded data
	auditScanCode // the byte behind 0xff in it
)

// cut says that the file ended before its end mark.
func (a *jpegAudit) cut() bool { return !a.ended }

// Write takes the next bytes; it never fails.
func (a *jpegAudit) Write(p []byte) (int, error) {
	n := len(p)
	for len(p) > 0 && !a.ended && !a.damaged {
		switch a.state {
		case auditSkip:
			k := min(a.skip, len(p))
			a.skip -= k
			p = p[k:]
			if a.skip == 0 {
				a.segmentDone()
			}
		case auditScan:
			i := bytes.IndexByte(p, 0xff)
			if i < 0 {
				return n, nil
			}
			p = p[i+1:]
			a.state = auditScanCode
		default:
			a.byte(p[0])
			p = p[1:]
		}
	}
	return n, nil
}

func (a *jpegAudit) byte(b byte) {
	switch a.state {
	case auditMarker:
		a.damaged = b != 0xff
		a.state = auditCode
	case auditLengthHigh:
		a.length, a.state = int(b)<<8, auditLengthLow
	case auditLengthLow:
		a.segment(a.length | int(b))
	case auditCode:
		a.code(b)
	case auditScanCode:
		a.scanCode(b)
	}
}

func (a *jpegAudit) segment(n int) {
	a.damaged = n < 2
	a.skip, a.state = n-2, auditSkip
	if a.skip == 0 {
		a.segmentDone()
	}
}

func (a *jpegAudit) segmentDone() {
	a.state = auditMarker
	if a.scan {
		a.scan, a.restart, a.state = false, 0, auditScan
	}
}

func (a *jpegAudit) code(b byte) {
	switch {
	case b == 0xff: // fill
	case b == 0xd8 || b == 0x01:
		a.state = auditMarker
	case b == 0xd9:
		a.ended = true
	default:
		a.scan, a.state = b == 0xda, auditLengthHigh
	}
}

func (a *jpegAudit) scanCode(b byte) {
	switch {
	case b == 0:
		a.state = auditScan
	case b == 0xff:
	case b >= 0xd0 && b <= 0xd7:
		a.damaged = b-0xd0 != a.restart
		a.restart = (a.restart + 1) % 8
		a.state = auditScan
	default:
		a.code(b)
	}
}

// mendJPEG finds the part of a decoded JPEG that its decoder left untouched
// because the data ended or made no sense, paints it grey and says so.
func mendJPEG(img image.Image, a *jpegAudit, s *Scan) {
	rows, all := 0, img.Bounds().Dy()
	switch m := img.(type) {
	case *image.YCbCr:
		rows = untouchedYCC(m)
	case *image.Gray:
		if a.cut() || a.damaged {
			rows = untouchedGrey(m)
		}
	}
	switch {
	case rows > 0:
		s.Truncated = true
		s.warn("this JPEG is cut off or damaged: the upper %d of %d rows are shown, the rest is blank; copy it again from where it came",
			all-rows, all)
	case a.cut() && s.Header.Progressive:
		s.Truncated = true
		s.warn("this JPEG is cut off: it is shown as far as it came, without its finest detail; copy it again from where it came")
	case a.cut():
		s.warn("the end mark of this JPEG is missing; its last rows may be damaged")
	case a.damaged:
		s.warn("the data of this JPEG contradicts itself; parts of the picture may be damaged: hold it against the original")
	}
}

// untouchedYCC paints the rows at the bottom that no data reached, and the
// rest of the row of blocks above them, and counts the whole rows. Untouched
// samples are zero in all three planes, a colour outside what YCbCr can
// stand for and no encoder writes over whole rows.
func untouchedYCC(m *image.YCbCr) int {
	h := m.Rect.Dy()
	y := h
	for y > 0 && zeroRowYCC(m, y-1) {
		y--
	}
	if y == h {
		return 0
	}
	const blocks = 32 // the highest row of blocks
	for v := max(0, y-blocks); v < h; v++ {
		for x := range m.Rect.Dx() {
			i, c := m.YOffset(x, v), m.COffset(x, v)
			if m.Y[i] == 0 && (m.Cb[c] == 0 && m.Cr[c] == 0 || m.Cb[c] == 128 && m.Cr[c] == 128 && v >= y) {
				m.Y[i], m.Cb[c], m.Cr[c] = 128, 128, 128
			}
		}
	}
	return h - y
}

func zeroRowYCC(m *image.YCbCr, y int) bool {
	i, c := m.YOffset(0, y), m.COffset(0, y)
	n := m.COffset(m.Rect.Dx()-1, y) + 1
	return zero(m.Y[i:i+m.Rect.Dx()]) && zero(m.Cb[c:n]) && zero(m.Cr[c:n])
}

func untouchedGrey(m *image.Gray) int {
	h := m.Rect.Dy()
	y := h
	for y > 0 && zero(m.Pix[m.PixOffset(0, y-1):][:m.Rect.Dx()]) {
		y--
	}
	for v := y; v < h; v++ {
		row := m.Pix[m.PixOffset(0, v):][:m.Rect.Dx()]
		for i := range row {
			row[i] = 128
		}
	}
	return h - y
}

func zero(b []uint8) bool {
	for _, v := range b {
		if v != 0 {
			return false
		}
	}
	return true
}
