package rectify

import (
	"encoding/binary"
	"hash/crc32"
	"io"
	"math"
	"strconv"
	"strings"

	"legwright/mapio/scan"
)

// spliced puts bytes into a stream after its first ones.
type spliced struct {
	w      io.Writer
	after  int
	insert []byte
}

func (s *spliced) Write(b []byte) (int, error) {
	if s.insert == nil || len(b) == 0 {
		return s.w.Write(b)
	}
	head := b[:min(s.after, len(b))]
	n, err := s.w.Write(head)
	s.after -= n
	if err != nil || s.after > 0 {
		return n, err
	}
	if _, err = s.w.Write(s.insert); err != nil {
		return n, err
	}
	s.insert = nil
	if len(b) == n {
		return n, nil
	}
	m, err := s.w.Write(b[n:])
	return n + m, err
}

// sigmaText is the standard deviation of positions as it stands behind
// scan.PositionKey: a sheet made of the picture is no better than this one.
func sigmaText(m float64) string { return strconv.FormatFloat(m, 'g', 4, 64) }

// pngWords are the chunks pHYs, where a resolution is known, iTXt with the
// keyword Description and tEXt with scan.PositionKey and, where something speaks
// against the sheet, scan.CautionsKey (PNG Specification, third edition, 11.3.3 and 11.3.4).
func pngWords(words []string, dpi, sigmaM float64, cautions string) []byte {
	var out []byte
	if perMetre := math.Round(dpi / 0.0254); perMetre >= 1 && perMetre < math.MaxInt32 {
		body := binary.BigEndian.AppendUint32(nil, uint32(perMetre))
		body = binary.BigEndian.AppendUint32(body, uint32(perMetre))
		out = appendChunk(out, "pHYs", append(body, 1)) // to the metre
	}
	if sigmaM > 0 {
		out = appendChunk(out, "tEXt", []byte(scan.PositionKey+"\x00"+sigmaText(sigmaM)))
	}
	if cautions != "" {
		out = appendChunk(out, "tEXt", []byte(scan.CautionsKey+"\x00"+clean(cautions)))
	}
	// keyword, not compressed, no language, no translated keyword
	return appendChunk(out, "iTXt", []byte("Description\x00\x00\x00\x00\x00"+strings.Join(words, "\n")))
}

func appendChunk(out []byte, kind string, body []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	at := len(out)
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[at:]))
}

// soiLen is the length of the marker that begins a JPEG.
const soiLen = 2

// jpegWords are the segments APP0 of JFIF 1.02 with the resolution, where one is
// known, and a comment (ITU-T T.81, B.2.4.5).
func jpegWords(words []string, dpi, sigmaM float64, cautions string) []byte {
	var out []byte
	if per := math.Round(dpi); per >= 1 && per <= math.MaxUint16 {
		body := append([]byte("JFIF\x00"), 1, 2, 1) // to the inch
		body = binary.BigEndian.AppendUint16(body, uint16(per))
		body = binary.BigEndian.AppendUint16(body, uint16(per))
		out = appendSegment(out, 0xe0, append(body, 0, 0)) // no thumbnail
	}
	if sigmaM > 0 {
		words = append([]string{scan.PositionKey + ": " + sigmaText(sigmaM)}, words...)
	}
	if cautions != "" {
		words = append([]string{scan.CautionsKey + ": " + clean(cautions)}, words...)
	}
	const most = math.MaxUint16 - 2
	text := []byte(strings.Join(words, "\n"))
	return appendSegment(out, 0xfe, text[:min(len(text), most)])
}

func appendSegment(out []byte, marker byte, body []byte) []byte {
	out = binary.BigEndian.AppendUint16(append(out, 0xff, marker), uint16(len(body)+2))
	return append(out, body...)
}
