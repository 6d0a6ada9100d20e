package ink

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"slices"
)

// EncodePNG writes the picture with at most 256 colours and its resolution in pixels per inch (pHYs).
func EncodePNG(pic *image.RGBA, dpi float64) ([]byte, error) {
	var buf bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(&buf, reduce(pic)); err != nil {
		return nil, err
	}
	const afterHeader = 8 + 25 // signature and IHDR
	perMetre := uint32(math.Round(dpi / 0.0254))
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1)
	var phys []byte
	phys = binary.BigEndian.AppendUint32(phys, 9)
	phys = append(phys, chunk...)
	phys = binary.BigEndian.AppendUint32(phys, crc32.ChecksumIEEE(chunk))
	return slices.Insert(buf.Bytes(), afterHeader, phys...), nil
}

// EncodeJPEG writes the picture with its resolution in whole pixels per inch (JFIF 1.02 header).
func EncodeJPEG(pic image.Image, quality, dpi int) ([]byte, error) {
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, pic, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	head := []byte{0xFF, 0xE0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 2, 1}
	head = binary.BigEndian.AppendUint16(head, uint16(dpi))
	head = binary.BigEndian.AppendUint16(head, uint16(dpi))
	head = append(head, 0, 0)
	return slices.Insert(buf.Bytes(), 2, head...), nil
}

// reduce maps the picture to 256 colours by median cut over a histogram of 6 bits a channel.
func reduce(pic *image.RGBA) *image.Paletted {
	const cells = 1 << 18
	count := new([cells]int)
	sum := new([cells][3]int)
	for i := 0; i < len(pic.Pix); i += 4 {
		k := key(pic.Pix[i:])
		count[k]++
		for c := range 3 {
			sum[k][c] += int(pic.Pix[i+c])
		}
	}
	var all []int
	for k, n := range count {
		if n > 0 {
			all = append(all, k)
		}
	}
	mean := func(k, c int) float64 { return float64(sum[k][c]) / float64(count[k]) }
	boxes := cutBoxes(all, count, mean)
	palette := make(color.Palette, len(boxes))
	index := new([cells]uint8)
	for b, box := range boxes {
		palette[b] = boxColour(box, count, sum)
		for _, k := range box {
			index[k] = uint8(b)
		}
	}
	out := image.NewPaletted(pic.Bounds(), palette)
	for i := range out.Pix {
		out.Pix[i] = index[key(pic.Pix[4*i:])]
	}
	return out
}

func key(p []uint8) int { return int(p[0]>>2)<<12 | int(p[1]>>2)<<6 | int(p[2]>>2) }

// cutBoxes divides the colours into up to 256 groups, always the one with the largest spread weighted by its root count.
func cutBoxes(all []int, count *[1 << 18]int, mean func(k, c int) float64) [][]int {
	boxes := [][]int{all}
	for len(boxes) < 256 {
		pick, axis, worst := -1, 0, 0.0
		for b, box := range boxes {
			if a, s := spreadOf(box, count, mean); s > worst {
				pick, axis, worst = b, a, s
			}
		}
		if pick < 0 {
			break
		}
		lo, hi := halve(boxes[pick], axis, count, mean)
		boxes[pick] = lo
		boxes = append(boxes, hi)
	}
	return boxes
}

func spreadOf(box []int, count *[1 << 18]int, mean func(k, c int) float64) (axis int, spread float64) {
	if len(box) < 2 {
		return 0, 0
	}
	n := 0
	for _, k := range box {
		n += count[k]
	}
	for c := range 3 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, k := range box {
			lo, hi = math.Min(lo, mean(k, c)), math.Max(hi, mean(k, c))
		}
		if s := (hi - lo) * math.Pow(float64(n), 0.3); s > spread {
			axis, spread = c, s
		}
	}
	return axis, spread
}

func halve(box []int, axis int, count *[1 << 18]int, mean func(k, c int) float64) (lo, hi []int) {
	slices.SortFunc(box, func(a, b int) int {
		if d := mean(a, axis) - mean(b, axis); d != 0 {
			return int(math.Copysign(1, d))
		}
		return a - b
	})
	mid := (mean(box[0], axis) + mean(box[len(box)-1], axis)) / 2
	at := 1
	for at < len(box)-1 && mean(box[at], axis) < mid {
		at++
	}
	return box[:at:at], box[at:]
}

func boxColour(box []int, count *[1 << 18]int, sum *[1 << 18][3]int) color.Color {
	n, s := 0, [3]int{}
	for _, k := range box {
		n += count[k]
		for c := range 3 {
			s[c] += sum[k][c]
		}
	}
	return color.RGBA{uint8((s[0] + n/2) / n), uint8((s[1] + n/2) / n), uint8((s[2] + n/2) / n), 255}
}
