package scan

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"
	"io/fs"
)

// markEnds is how much of a file's two ends goes into its mark, in bytes.
const markEnds = 64 << 10

// Mark names the content of a file without reading it whole: it hashes the
// size, the modification time and the first and last 64 KB. A file that was
// written again has another mark, save where a program kept all of these; who
// must be certain compares SHA256. Errors are those of the file system.
func Mark(fsys fs.FS, name string) (mark [32]byte, err error) {
	f, err := fsys.Open(name)
	if err != nil {
		return mark, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return mark, err
	}
	if !info.Mode().IsRegular() {
		return mark, fmt.Errorf("%s: %w: not a file", name, ErrNotPicture)
	}
	h := sha256.New()
	var head [16]byte
	binary.LittleEndian.PutUint64(head[:], uint64(info.Size()))
	binary.LittleEndian.PutUint64(head[8:], uint64(info.ModTime().UnixNano()))
	h.Write(head[:])
	if _, err := io.Copy(h, io.LimitReader(f, markEnds)); err != nil {
		return mark, err
	}
	if s, ok := f.(io.Seeker); ok && info.Size() > 2*markEnds {
		if _, err := s.Seek(-markEnds, io.SeekEnd); err != nil {
			return mark, err
		}
		if _, err := io.Copy(h, io.LimitReader(f, markEnds)); err != nil {
			return mark, err
		}
	}
	return [32]byte(h.Sum(nil)), nil
}
