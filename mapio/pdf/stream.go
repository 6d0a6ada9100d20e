package pdf

import (
	"compress/zlib"
	"errors"
	"fmt"
	"io"
)

// streamAt reads the stream at an offset of the file: its dictionary and its stored
// data.
func (d *dictionary) streamAt(at int64) (dictObject, io.Reader, error) {
	_, o, data, err := d.stored(at)
	if err != nil {
		return nil, nil, err
	}
	dict, ok := o.(dictObject)
	if !ok || data == 0 {
		return nil, nil, fmt.Errorf("%w: a stream is not where its table says", errDictionary)
	}
	long := d.r.Size() - data
	if v, ok := d.resolve(dict["Length"]).(int64); ok && v >= 0 {
		long = min(long, v)
	}
	var in io.Reader = io.NewSectionReader(d.r, data, long)
	return dict, in, nil
}

// unpacked returns the unpacked data of a stream.
func (d *dictionary) unpacked(dict dictObject, in io.Reader) ([]byte, error) {
	filter, parms := d.resolve(dict["Filter"]), d.resolve(dict["DecodeParms"])
	if list, ok := filter.(arrayObject); ok && len(list) == 1 {
		filter = d.resolve(list[0])
		if of, ok := parms.(arrayObject); ok && len(of) == 1 {
			parms = d.resolve(of[0])
		}
	}
	switch filter {
	case nil:
	case nameObject("FlateDecode"):
		unzipped, err := zlib.NewReader(in)
		if err != nil {
			return nil, fmt.Errorf("%w (%w)", errDictionary, err)
		}
		in = unzipped
	default:
		return nil, fmt.Errorf("%w: it is compressed in a way that is not supported", errDictionary)
	}
	out, err := io.ReadAll(spending{in, d.spend})
	switch {
	case errors.Is(err, errDictionary):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("%w (%w)", errDictionary, err)
	}
	how, _ := parms.(dictObject)
	return unpredicted(out, how)
}

// spending counts the bytes read against the budget.
type spending struct {
	in    io.Reader
	spend func(int64) error
}

func (s spending) Read(p []byte) (int, error) {
	n, err := s.in.Read(p)
	if short := s.spend(int64(n)); short != nil {
		return n, short
	}
	return n, err
}

// unpredicted undoes the PNG predictors (ISO 32000-2, 7.4.4.4).
func unpredicted(data []byte, how dictObject) ([]byte, error) {
	figure := func(key nameObject, otherwise int) int {
		if v, ok := how[key].(int64); ok && v > 0 && v <= 1<<16 {
			return int(v)
		}
		return otherwise
	}
	predictor := figure("Predictor", 1)
	if predictor == 1 {
		return data, nil
	}
	bits := figure("Colors", 1) * figure("BitsPerComponent", 8)
	step, row := max(1, bits/8), (bits*figure("Columns", 1)+7)/8
	if predictor < 10 {
		return nil, fmt.Errorf("%w: it is compressed in a way that is not supported", errDictionary)
	}
	var out, above []byte
	above = make([]byte, row)
	for len(data) > row {
		line := data[1 : 1+row]
		for i := range line {
			var left, corner byte
			if i >= step {
				left, corner = line[i-step], above[i-step]
			}
			line[i] += predicted(data[0], left, above[i], corner)
		}
		out, above, data = append(out, line...), line, data[1+row:]
	}
	return out, nil
}

// predicted is what a PNG filter expects (PNG specification, clause 9).
func predicted(filter, left, up, corner byte) byte {
	switch filter {
	case 1:
		return left
	case 2:
		return up
	case 3:
		return byte((int(left) + int(up)) / 2)
	case 4:
		p := int(left) + int(up) - int(corner)
		a, b, c := distance(p, left), distance(p, up), distance(p, corner)
		switch {
		case a <= b && a <= c:
			return left
		case b <= c:
			return up
		}
		return corner
	}
	return 0
}

func distance(p int, v byte) int { return max(p-int(v), int(v)-p) }
