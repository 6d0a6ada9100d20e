package plan

import (
	"errors"
	"time"
)

// ErrChangedOnDisk is returned by a store that is asked to save over a file
// that has changed since it was read. Nothing has been written.
var ErrChangedOnDisk = errors.New("the plan file has been changed by another program since it was opened")

// Stamp is what a plan file looked like when it was read or written. The zero
// Stamp means that nothing is known of the file.
type Stamp struct {
	ModTime time.Time
	Size    int64 // bytes
	SHA256  [32]byte
}

// IsZero reports whether the stamp says nothing.
func (s Stamp) IsZero() bool { return s.Size == 0 && s.SHA256 == [32]byte{} }

// Same reports whether two stamps are of the same content. The time does not
// count: a copied or touched file is not a changed one.
func (s Stamp) Same(t Stamp) bool { return s.Size == t.Size && s.SHA256 == t.SHA256 }

// Overwrite says what saving a plan may replace. The zero value allows any content,
// but no read-only file.
type Overwrite struct {
	Expect   Stamp // what the file was last seen to be; the zero Stamp is anything
	ReadOnly bool  // a read-only file too: the person has agreed
}
