package pdf

import (
	"sync"

	"github.com/tetratelabs/wazero/experimental"

	"legwright/mapio/planes"
)

// rendererMemory is the most memory the renderer may have, in bytes, whatever
// a page calls for.
const rendererMemory = 640 << 20

// arena gives the renderer its memory, and knows the one given last.
type arena struct{ newest *linear }

// Allocate implements experimental.MemoryAllocator.
func (a *arena) Allocate(_, _ uint64) experimental.LinearMemory {
	a.newest = &linear{plane: planes.New(rendererMemory)}
	return a.newest
}

// linear is the memory of one document's renderer. Its addresses are reserved
// at once and the system gives memory to those that are used: growing copies
// nothing, and all of it goes back when the document is closed.
type linear struct {
	mu    sync.Mutex
	plane *planes.Plane
	short bool // more was asked for than rendererMemory
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

// stop ends what runs in the renderer at the next turn of any loop. Nothing
// can be run in it afterwards.
func (l *linear) stop() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if all := l.plane.Bytes(); all != nil {
		all[stopAt] = 1
	}
}

// wasShort reports whether more memory was asked for than there may be.
func (l *linear) wasShort() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.short
}
