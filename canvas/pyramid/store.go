package pyramid

import (
	"cmp"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

var (
	// ErrNotStored is returned by Store.Open for a picture that is not in the
	// store, or whose file was damaged or foreign and has been dropped.
	ErrNotStored = errors.New("the picture is not in the store")
	// ErrTooLarge is given to OnFault when a picture does not fit the store.
	ErrTooLarge = errors.New("the picture is too large to be stored")
)

// DefaultStoreLimit is the size of a store in bytes unless told otherwise.
const DefaultStoreLimit = 4 << 30

const (
	sheetEnding = ".v1.sheet" // with fileVersion
	partEnding  = ".part"
	markEnding  = ".mark"
	// partLife is the age from which an unfinished file of unknown owner counts as
	// left behind. Building takes seconds. A bench that was suspended for longer
	// finds its file deleted and continues in memory.
	partLife = time.Hour
)

// Store is a folder of pictures with their levels, for opening them again at
// once, bounded by deleting what was opened longest ago. Several
// programs may use one folder: files are made under names of their own,
// appear whole under their final name, and who reads one that another
// removes reads on. All methods may be called from any goroutine.
type Store struct {
	dir   string
	limit int64
	owner Owner
	// create makes a file of a new name after a pattern.
	create func(dir, pattern string) (blob, string, error)
}

// Owner tells a store which process an unfinished file belongs to, so that it
// removes the files of killed processes and never one that is being written. The
// zero Owner goes by the age of a file alone.
type Owner struct {
	// Mark is part of the name of each unfinished file of this process.
	Mark string
	// Left reports whether the unfinished file at path was left behind. It may be
	// nil.
	Left func(path string) bool
}

// OpenStore opens the store in the folder dir, which is made if it is not
// there, and removes what killed processes left in it. It holds at most limit
// bytes, 0 meaning DefaultStoreLimit.
func OpenStore(dir string, limit int64, owner Owner) (*Store, error) {
	if limit <= 0 {
		limit = DefaultStoreLimit
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("the folder for stored pictures cannot be created: %w", err)
	}
	s := &Store{dir: dir, limit: limit, owner: owner, create: createFile}
	s.sweep(time.Now())
	s.trim("")
	return s, nil
}

// createFile makes the folder again if somebody deleted it, as anybody may do with
// a cache.
func createFile(dir, pattern string) (blob, string, error) {
	f, err := os.CreateTemp(dir, pattern)
	if errors.Is(err, fs.ErrNotExist) && os.MkdirAll(dir, 0o700) == nil {
		f, err = os.CreateTemp(dir, pattern)
	}
	if err != nil {
		return nil, "", err
	}
	return f, f.Name(), nil
}

func (s *Store) path(key [32]byte) string {
	return filepath.Join(s.dir, hex.EncodeToString(key[:])+sheetEnding)
}

// Open opens a picture from the store with all its levels, in milliseconds.
// Opt.Store and Opt.Key are set by it. The error is ErrNotStored if the
// picture is not there; a file that is damaged or of another version is
// removed.
func (s *Store) Open(key [32]byte, opt Options) (*Pyramid, error) {
	f, small, err := s.open(key)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotStored, err)
	}
	opt.Store, opt.Key = s, key
	p := NewPending(f.size, opt)
	p.stage = building
	p.adopt(f, small)
	p.finish()
	return p, nil
}

// open opens the file of a picture and reads its small levels, which lie at
// the end of those returned.
func (s *Store) open(key [32]byte) (*sheetFile, []*tiled, error) {
	f, err := openSheet(s.path(key))
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			_ = os.Remove(s.path(key)) // who cannot remove it builds it anew all the same
		}
		return nil, nil, err
	}
	small, err := f.smallLevels()
	if f.key != key {
		err = errForeign
	}
	if err != nil {
		s.drop(f)
		return nil, nil, err
	}
	now := time.Now()
	_ = os.Chtimes(f.path, now, now) // only the order of leaving hangs on it
	return f, small, nil
}

// drop removes a file that is open.
func (s *Store) drop(f *sheetFile) {
	_ = f.blob.Close()
	_ = os.Remove(f.path) // what cannot be removed is refused again next time
}

// partPattern is the pattern of names of unfinished files.
func (s *Store) partPattern(of string) string { return of + "." + s.owner.Mark + "-*" + partEnding }

// begin makes the file for a picture that is to be stored.
func (s *Store) begin(key [32]byte, l layout, lut *palette) (*sheetFile, error) {
	if l.total > s.limit {
		return nil, fmt.Errorf("%w: it takes %d MB; at most %d MB are allowed", ErrTooLarge, l.total>>20, s.limit>>20)
	}
	b, name, err := s.create(s.dir, s.partPattern(hex.EncodeToString(key[:])))
	if err != nil {
		return nil, fmt.Errorf("the picture cannot be stored: %w", err)
	}
	return &sheetFile{layout: l, blob: b, path: name, key: key, lut: lut, sums: make([]uint32, l.tiles)}, nil
}

// commit ends a file and gives it its final name, under which it is opened
// again. Where another program holds a file of that name and the system does
// not let it be replaced, that one is opened. On failure the file is gone.
func (s *Store) commit(f *sheetFile) (*sheetFile, error) {
	path := s.path(f.key)
	err := f.seal()
	err = errors.Join(err, f.blob.Close()) // some systems rename no open file
	if err == nil {
		err = os.Rename(f.path, path)
	}
	stored, opening := (*sheetFile)(nil), err
	if err == nil || exists(path) {
		stored, opening = openSheet(path)
	}
	if err != nil {
		_ = os.Remove(f.path)
	}
	if opening != nil {
		return nil, fmt.Errorf("the picture cannot be stored: %w", errors.Join(err, opening))
	}
	s.trim(path)
	return stored, nil
}

// entry is a file of the store.
type entry struct {
	path  string
	size  int64
	mtime time.Time
}

// entries lists the files with an ending, oldest use first.
func (s *Store) entries(ending string) []entry {
	list, err := os.ReadDir(s.dir)
	if err != nil {
		return nil // a folder that cannot be read holds nothing for us
	}
	var out []entry
	for _, d := range list {
		if info, err := d.Info(); err == nil && info.Mode().IsRegular() && strings.HasSuffix(d.Name(), ending) {
			out = append(out, entry{filepath.Join(s.dir, d.Name()), info.Size(), info.ModTime()})
		}
	}
	slices.SortFunc(out, func(a, b entry) int { return cmp.Or(a.mtime.Compare(b.mtime), strings.Compare(a.path, b.path)) })
	return out
}

// trim removes the pictures opened longest ago until the limit is kept, but
// not the one spared.
func (s *Store) trim(spared string) {
	list := s.entries(sheetEnding)
	sum := int64(0)
	for _, e := range list {
		sum += e.size
	}
	for _, e := range list {
		if sum > s.limit && e.path != spared && os.Remove(e.path) == nil {
			sum -= e.size
		}
	}
}

// sweep removes files never finished and marks of pictures no longer stored.
func (s *Store) sweep(now time.Time) {
	for _, e := range s.entries(partEnding) {
		left := now.Sub(e.mtime) > partLife
		if s.owner.Left != nil {
			left = s.owner.Left(e.path)
		}
		if left {
			_ = os.Remove(e.path) // tried again at the next start
		}
	}
	for _, e := range s.entries(markEnding) {
		if key, err := readMark(e.path); err != nil || !exists(s.path(key)) && now.Sub(e.mtime) > 24*partLife {
			_ = os.Remove(e.path)
		}
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// Clear removes all pictures. Those in use are shown on, from files that no
// longer have a name; where the system does not allow that, they stay and
// the error says so.
func (s *Store) Clear() error {
	var errs []error
	for _, ending := range []string{sheetEnding, markEnding} {
		for _, e := range s.entries(ending) {
			if err := os.Remove(e.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
				errs = append(errs, err)
			}
		}
	}
	s.sweep(time.Now())
	return errors.Join(errs...)
}

// Size is the number of bytes and of pictures in the store.
func (s *Store) Size() (bytes int64, sheets int) {
	list := s.entries(sheetEnding)
	for _, e := range list {
		bytes += e.size
	}
	return bytes, len(list)
}

// Find gives the picture noted under a mark and its size in pixels, if it is
// stored.
func (s *Store) Find(mark [32]byte) (key [32]byte, size image.Point, ok bool) {
	key, err := readMark(s.markPath(mark))
	if err != nil {
		return key, size, false
	}
	f, err := openSheet(s.path(key))
	if err != nil {
		return key, size, false
	}
	defer f.blob.Close()
	return key, f.size, true
}
