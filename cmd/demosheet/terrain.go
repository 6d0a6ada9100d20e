package main

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"math"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
)

// postM is how far apart the posts of the demo's terrain stand, in metres.
const postM = 20

// terrainFile writes the heights of the ground as a GeoTIFF (OGC 19-008r4): one strip of
// 32-bit floating-point metres, deflated, in eighths of a metre, which deflate well. The sea
// lies at 0.
func terrainFile(g *ground.Ground) ([]byte, error) {
	cols, rows := int((demo.East-demo.West)/postM)+1, int((demo.North-demo.South)/postM)+1
	var strip bytes.Buffer
	z := zlib.NewWriter(&strip)
	for r := range rows {
		for c := range cols {
			h := g.Height.At(ground.Point{X: postM * float64(c), Y: demo.North - demo.South - postM*float64(r)})
			eighths := float32(math.Round(8*max(h, 0)) / 8)
			if err := binary.Write(z, binary.LittleEndian, eighths); err != nil {
				return nil, err
			}
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return geoTIFF(cols, rows, strip.Bytes()), nil
}

// geoTIFF lays a TIFF out: head, directory, the values that are too long for it, the strip. Posts are the
// centres of pixels (RasterPixelIsPoint), the first one the north-west corner of the neat line.
func geoTIFF(cols, rows int, strip []byte) []byte {
	const short, long, double = 3, 4, 12
	le := binary.LittleEndian
	doubles := func(v ...float64) (b []byte) {
		for _, x := range v {
			b = le.AppendUint64(b, math.Float64bits(x))
		}
		return b
	}
	var keys []byte
	for _, k := range []uint16{1, 1, 0, 3, 1024, 0, 1, 1, 1025, 0, 1, 2, 3072, 0, 1, uint16(demo.SheetTruth().EPSG)} {
		keys = le.AppendUint16(keys, k)
	}
	fields := []struct {
		tag, kind uint16
		count     int
		value     int
		long      []byte
	}{
		{256, long, 1, cols, nil},
		{257, long, 1, rows, nil},
		{258, short, 1, 32, nil},
		{259, short, 1, 8, nil},
		{262, short, 1, 1, nil},
		{273, long, 1, 0, strip},
		{277, short, 1, 1, nil},
		{278, long, 1, rows, nil},
		{279, long, 1, len(strip), nil},
		{339, short, 1, 3, nil},
		{33550, double, 3, 0, doubles(postM, postM, 0)},
		{33922, double, 6, 0, doubles(0, 0, 0, demo.West, demo.North, 0)},
		{34735, short, len(keys) / 2, 0, keys},
	}
	out := append([]byte("II*\x00\x08\x00\x00\x00"), le.AppendUint16(nil, uint16(len(fields)))...)
	at := len(out) + 12*len(fields) + 4
	var behind []byte
	for _, f := range fields {
		if f.long != nil {
			f.value = at + len(behind)
			behind = append(behind, f.long...)
			behind = append(behind, make([]byte, len(behind)%2)...)
		}
		out = le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(out, f.tag), f.kind), uint32(f.count)), uint32(f.value))
	}
	return append(le.AppendUint32(out, 0), behind...)
}
