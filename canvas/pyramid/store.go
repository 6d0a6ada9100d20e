package pyramid

import (
	"errors"
	"fmt"
	"image"
	"os"
)

// ErrNotStored is returned by Store.Open for a picture that is not in the
// store, or whose file was damaged or foreign and has been dropped.
var ErrNotStored = errors.New("picture is not in the store")

// DefaultStoreLimit is the size of a store in bytes unless told otherwise.
const DefaultStoreLimit = 4 << 30

// Store is a folder of pictures with their levels, for opening them again at
// once.
type Store struct {
	dir   string
	limit int64
}

// OpenStore opens the store in the folder dir, which is made if it is not
// there. It holds at most limit bytes, 0 meaning DefaultStoreLimit.
func OpenStore(dir string, limit int64) (*Store, error) {
	if limit <= 0 {
		limit = DefaultStoreLimit
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("making the folder for stored pictures: %w", err)
	}
	return &Store{dir: dir, limit: limit}, nil
}

// Open opens a picture from the store, all levels ready.
func (s *Store) Open(key [32]byte, opt Options) (*Pyramid, error) { return nil, ErrNotStored }

// Note remembers under a file's mark which picture it holds.
func (s *Store) Note(mark, key [32]byte) {}

// Find gives the picture noted under a mark and its size, if it is stored.
func (s *Store) Find(mark [32]byte) (key [32]byte, size image.Point, ok bool) {
	return key, size, false
}

// Clear removes all pictures.
func (s *Store) Clear() error { return nil }

// Size is the number of bytes and of pictures in the store.
func (s *Store) Size() (bytes int64, sheets int) { return 0, 0 }

func (p *Pyramid) buildStored(layer) error { return errNoStore }
func (p *Pyramid) closeFile()              {}
func (p *Pyramid) damaged(error)           {}
