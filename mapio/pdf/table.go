package pdf

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
)

// tableSection reads the lines of a table.
func (d *dictionary) tableSection(at int64) (dictObject, error) {
	in := &words{in: bufio.NewReader(io.NewSectionReader(d.r, at, d.r.Size()-at)), spend: d.spend}
	for {
		word, err := in.next()
		if err != nil {
			return nil, err
		}
		if word == "trailer" {
			break
		}
		first, count := number(word), in.number()
		if in.err != nil || first < 0 || count < 0 || first > maxObjects || count > maxObjects-first {
			return nil, fmt.Errorf("%w: its table of objects is damaged", errDictionary)
		}
		for n := first; n < first+count; n++ {
			offset, _ := in.number(), in.number()
			kind, err := in.next()
			if err != nil || offset < 0 {
				return nil, fmt.Errorf("%w: its table of objects is damaged", errDictionary)
			}
			d.add(n, entry{at: offset, free: kind != "n"})
		}
	}
	o, _, err := d.textAt(at+in.read, parsed)
	trailer, ok := o.(dictObject)
	if err != nil || !ok {
		return nil, cmpError(err, "its trailer is damaged")
	}
	return trailer, nil
}

func cmpError(err error, otherwise string) error {
	if err != nil {
		return err
	}
	return fmt.Errorf("%w: %s", errDictionary, otherwise)
}

// add keeps an entry; newer sections come first.
func (d *dictionary) add(n int64, e entry) {
	if _, known := d.entries[n]; !known {
		d.entries[n] = e
	}
}

// words reads a file word by word.
type words struct {
	in    *bufio.Reader
	read  int64
	spend func(int64) error
	err   error
}

// next is the next word, of at most 32 characters.
func (w *words) next() (string, error) {
	var out []byte
	for w.err == nil {
		var c byte
		c, w.err = w.in.ReadByte()
		w.read++
		if w.read%4096 == 0 && w.err == nil {
			w.err = w.spend(4096)
		}
		if w.err == nil && isRegular(c) && len(out) < 32 {
			out = append(out, c)
			continue
		}
		if len(out) > 0 {
			if w.err == nil && !isSpace(c) {
				w.err = w.in.UnreadByte()
				w.read--
			}
			return string(out), nil
		}
		if w.err == nil && !isSpace(c) {
			w.err = fmt.Errorf("%w: its table of objects is damaged", errDictionary)
		}
	}
	return "", w.err
}

// number is the next word as a number, -1 for none.
func (w *words) number() int64 {
	word, err := w.next()
	if err != nil {
		return -1
	}
	return number(word)
}

func number(word string) int64 {
	v, err := strconv.ParseInt(word, 10, 64)
	if err != nil {
		return -1
	}
	return v
}

// streamSection reads a cross-reference stream (ISO 32000-2, 7.5.8).
func (d *dictionary) streamSection(at int64) (dictObject, error) {
	dict, data, err := d.streamAt(at)
	if err != nil {
		return nil, err
	}
	raw, err := d.unpacked(dict, data)
	if err != nil {
		return nil, err
	}
	var widths [3]int
	list, _ := dict["W"].(arrayObject)
	if len(list) != 3 {
		return nil, fmt.Errorf("%w: its table of objects has no columns", errDictionary)
	}
	for i := range widths {
		w, ok := list[i].(int64)
		if !ok || w < 0 || w > 8 {
			return nil, fmt.Errorf("%w: its table of objects has a column of unusable width", errDictionary)
		}
		widths[i] = int(w)
	}
	index, ok := dict["Index"].(arrayObject)
	if !ok {
		index = arrayObject{int64(0), dict["Size"]}
	}
	return dict, d.rows(raw, widths, index)
}

// rows takes the entries of a cross-reference stream.
func (d *dictionary) rows(raw []byte, widths [3]int, index arrayObject) error {
	long := widths[0] + widths[1] + widths[2]
	for i := 0; i+1 < len(index); i += 2 {
		first, ok1 := index[i].(int64)
		count, ok2 := index[i+1].(int64)
		if !ok1 || !ok2 || long == 0 || first < 0 || count < 0 || first > maxObjects || count > maxObjects-first {
			return fmt.Errorf("%w: its table of objects is damaged", errDictionary)
		}
		for n := first; n < first+count && len(raw) >= long; n++ {
			kind := int64(1)
			if widths[0] > 0 {
				kind = bigEndian(raw[:widths[0]])
			}
			second := bigEndian(raw[widths[0] : widths[0]+widths[1]])
			raw = raw[long:]
			switch kind {
			case 0:
				d.add(n, entry{free: true})
			case 1:
				d.add(n, entry{at: second})
			case 2:
				d.add(n, entry{stream: second})
			}
		}
	}
	return nil
}

func bigEndian(b []byte) (v int64) {
	for _, c := range b {
		v = v<<8 | int64(c)
	}
	return v
}
