package scan

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"
	"io/fs"
)

// markSpan is how much of each end of a file goes into its mark, in bytes.
const markSpan = 64 << 10

// Mark names a file without reading it whole: it is a hash of its size, its
// time of change and its first and last 64 KB. Two files of the same mark are
// taken for the same where a slip costs no more than a look at the wrong
// stored tiles, never to show that two files are one; that takes Scan.SHA256. The error is the file
// system's, or wraps ErrNotPicture for a folder.
func Mark(fsys fs.FS, name string) (mark [32]byte, err error) {
	src, err := fsys.Open(name)
	if err != nil {
		return mark, err
	}
	defer src.Close()
	info, err := src.Stat()
	if err != nil {
		return mark, err
	}
	if info.IsDir() {
		return mark, fmt.Errorf("%s: %w: it is a folder", name, ErrNotPicture)
	}
	hash := sha256.New()
	var head [16]byte
	binary.LittleEndian.PutUint64(head[:], uint64(info.Size()))
	binary.LittleEndian.PutUint64(head[8:], uint64(info.ModTime().UnixNano()))
	hash.Write(head[:])
	if _, err = io.CopyN(hash, src, min(markSpan, info.Size())); err != nil {
		return mark, shortened(name, err)
	}
	if err = hashTail(hash, src, info.Size()); err != nil {
		return mark, shortened(name, err)
	}
	hash.Sum(mark[:0])
	return mark, nil
}

// hashTail adds what lies behind the first span, at most another; src stands
// there, and what can neither seek nor read at an offset is read on.
func hashTail(hash io.Writer, src fs.File, size int64) error {
	n := min(markSpan, size-markSpan)
	if n <= 0 {
		return nil
	}
	if at, ok := src.(io.ReaderAt); ok {
		_, err := io.CopyN(hash, io.NewSectionReader(at, size-n, n), n)
		return err
	}
	if _, err := io.CopyN(io.Discard, src, size-markSpan-n); err != nil {
		return err
	}
	_, err := io.CopyN(hash, src, n)
	return err
}

func shortened(name string, err error) error {
	if err == io.EOF {
		return fmt.Errorf("%s: %w: the file became shorter while it was being read; open it again", name, ErrTruncated)
	}
	return err
}
