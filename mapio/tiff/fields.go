package tiff

import (
	"io"
	"math"
)

// Fields reads a structure of size bytes that is laid out as a TIFF without
// being a picture, such as the EXIF block of a photograph (JEITA CP-3451): the
// first value, where it is a finite number, of each field of its first
// directory and of the directories that the fields named in further point to.
// Of fields that come twice the first counts. Directories after the first are
// not followed. What could be read is given; the error, which is of the kinds
// of Open, is that of the first directory.
func Fields(r io.ReaderAt, size int64, further ...uint16) (map[uint16]float64, error) {
	in := &input{r: r, size: size}
	at, err := in.header()
	if err != nil {
		return nil, err
	}
	out := map[uint16]float64{}
	if err := in.take(at, out); err != nil {
		return nil, err
	}
	for _, tag := range further {
		if v, ok := out[tag]; ok && v > 0 && v < math.MaxInt64 {
			_ = in.take(int64(v), out) // damaged, the rest is worth what it says
		}
	}
	return out, nil
}

// take adds the fields of the directory at an offset that are not there yet.
func (in *input) take(at int64, out map[uint16]float64) error {
	d, err := in.directory(at)
	if err != nil {
		return err
	}
	for tag := range d.entries {
		v, err := d.floats(tag, 1)
		if _, had := out[tag]; had || err != nil || len(v) == 0 || !finite(v[0]) {
			continue
		}
		out[tag] = v[0]
	}
	return nil
}
