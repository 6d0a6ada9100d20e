package pdf

import "fmt"

// packedObjects is an object stream (ISO 32000-2, 7.5.7), unpacked.
type packedObjects struct {
	data []byte
	at   map[int64]int64 // by number
}

// object reads the object with a number, or returns nil.
func (d *dictionary) object(number int64) (object, error) {
	e, ok := d.entries[number]
	switch {
	case !ok || e.free:
		return nil, nil
	case e.stream != 0:
		return d.packedObject(e.stream, number)
	}
	n, o, _, err := d.stored(d.base + e.at)
	if err != nil {
		return nil, err
	}
	if n.number != number {
		return nil, fmt.Errorf("%w: an object is not where its table says", errDictionary)
	}
	return o, nil
}

// packedObject reads an object out of an object stream, which is unpacked once.
func (d *dictionary) packedObject(stream, number int64) (object, error) {
	in := d.packed[stream]
	if in == nil {
		d.packed[stream] = &packedObjects{} // meanwhile nothing is in it: its own length may claim to be
		var err error
		if in, err = d.packedIn(stream); err != nil {
			delete(d.packed, stream)
			return nil, err
		}
		d.packed[stream] = in
	}
	at, ok := in.at[number]
	if !ok {
		return nil, nil
	}
	if err := d.spend(64); err != nil { // many may be asked for
		return nil, err
	}
	p := parser{data: in.data[:min(int64(len(in.data)), at+maxObject)], at: int(at), whole: true}
	return p.object()
}

func (d *dictionary) packedIn(stream int64) (*packedObjects, error) {
	e, ok := d.entries[stream]
	if !ok || e.free || e.stream != 0 {
		return nil, fmt.Errorf("%w: a stream of objects is missing", errDictionary)
	}
	dict, data, err := d.streamAt(d.base + e.at)
	if err != nil {
		return nil, err
	}
	out := &packedObjects{at: map[int64]int64{}}
	if out.data, err = d.unpacked(dict, data); err != nil {
		return nil, err
	}
	count, _ := dict["N"].(int64)
	first, _ := dict["First"].(int64)
	if count < 0 || count > maxObjects || first < 0 || first > int64(len(out.data)) {
		return nil, fmt.Errorf("%w: a stream of objects is damaged", errDictionary)
	}
	p := parser{data: out.data[:first], whole: true}
	for range count {
		p.space()
		n := number(p.word())
		p.space()
		at := number(p.word())
		if n < 0 || at < 0 || at > int64(len(out.data))-first {
			return nil, fmt.Errorf("%w: a stream of objects is damaged", errDictionary)
		}
		out.at[n] = first + at
	}
	return out, nil
}

// maxLinks is how many references are followed from one to the next.
const maxLinks = 32

// resolve follows references to an object. It returns nil if there is none or it
// cannot be read, and keeps the first error.
func (d *dictionary) resolve(o object) object {
	for range maxLinks {
		r, ok := o.(reference)
		if !ok {
			return o
		}
		var err error
		if o, err = d.object(r.number); err != nil {
			if d.fault == nil {
				d.fault = err
			}
			return nil
		}
	}
	return nil
}
