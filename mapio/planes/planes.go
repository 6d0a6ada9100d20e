// Package planes gives memory for the planes of large pictures, parts of which
// go back to the system while the rest is still in use. On Linux it lies
// outside the collector's heap, in mappings of its own; elsewhere it is ordinary
// memory, of which nothing goes back before all of it does.
package planes

import "os"

// Plane is memory of a fixed size. Close it: no collector does. Its methods are
// for one goroutine at a time; others may use its bytes meanwhile.
type Plane struct {
	bytes  []byte
	mapped bool
}

// New gives a plane of n bytes, all zero. What is never touched takes no memory.
func New(n int) *Plane {
	if b := reserve(n); b != nil {
		return &Plane{b, true}
	}
	return &Plane{make([]byte, n), false}
}

// Bytes is the memory, nil once the plane is closed. Who touches it after that
// ends the program.
func (p *Plane) Bytes() []byte { return p.bytes }

// Release says that the bytes from one up to another are not needed any more;
// they read as anything. Both are cut to the plane. Of a page of the system that
// is released in parts only, the first and the last part stay.
func (p *Plane) Release(from, to int) {
	page := os.Getpagesize()
	from = (max(from, 0) + page - 1) / page * page
	if to >= len(p.bytes) {
		to = len(p.bytes)
	} else {
		to = to / page * page
	}
	if p.mapped && from < to {
		giveBack(p.bytes[from:to])
	}
}

// Close gives all of the memory back. A second time does nothing.
func (p *Plane) Close() {
	if p.mapped {
		unmap(p.bytes)
	}
	p.bytes, p.mapped = nil, false
}
