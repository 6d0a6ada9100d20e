// Package planes allocates the planes of large pictures, so that parts can be
// returned to the system while the rest is in use. On Linux the memory lies outside
// the garbage collector's heap, in its own mappings; elsewhere it is ordinary
// memory, which is returned only as a whole.
package planes

import "os"

// Plane is memory of a fixed size. Close it: the garbage collector does not. Only
// one goroutine at a time may call its methods; others may use its bytes meanwhile.
type Plane struct {
	bytes  []byte
	mapped bool
}

// New returns a plane of n zero bytes. Untouched parts take no memory.
func New(n int) *Plane {
	if b := reserve(n); b != nil {
		return &Plane{b, true}
	}
	return &Plane{make([]byte, n), false}
}

// Bytes returns the memory, or nil once the plane is closed. Touching the memory
// after that crashes the program.
func (p *Plane) Bytes() []byte { return p.bytes }

// Release returns the bytes of a range, cut to the plane, to the system; their
// content is undefined afterwards. Memory pages only partly in the range stay.
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

// Close frees all of the memory. A second call does nothing.
func (p *Plane) Close() {
	if p.mapped {
		unmap(p.bytes)
	}
	p.bytes, p.mapped = nil, false
}
