package pdf

import (
	"sync"

	"github.com/tetratelabs/wazero/experimental"

	"legwright/mapio/planes"
)

// rendererMemory is the most memory that the renderer gets for any page, in bytes.
const rendererMemory = 640 << 20

// arena allocates the renderer's memory and knows the newest one.
type arena struct{ newest *linear }

// Allocate implements experimental.MemoryAllocator.
func (a *arena) Allocate(_, _ uint64) experimental.LinearMemory {
	a.newest = &linear{plane: planes.New(rendererMemory)}
	return a.newest
}

// linear is the memory of one document's renderer. All its addresses are reserved
// at once, and the system adds memory as they are used: growing copies nothing, and
// all memory is freed when the document is closed.
type linear struct {
	mu    sync.Mutex
	plane *planes.Plane
	short bool // more than rendererMemory was requested
}

// Reallocate implements experimental.LinearMemory; nil refuses.
func (l *linear) Reallocate(size uint64) []byte {
	l.mu.Lock()
	defer l.mu.Unlock()
	all := l.plane.Bytes()
	if size > uint64(len(all)) {
		l.short = true
		return nil
	}
	return all[:size:size]
}

// Free implements experimental.LinearMemory.
func (l *linear) Free() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.plane.Close()
}

// stop ends the renderer's work within 16,384 turns of its loops. The renderer
// cannot be used afterwards.
func (l *linear) stop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if all := l.plane.Bytes(); all != nil {
		all[stopAt] = 1
	}
}

// wasShort reports whether the renderer asked for more than rendererMemory.
func (l *linear) wasShort() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.short
}
