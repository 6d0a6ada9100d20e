package pyramid

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"hash/crc32"
	"os"
	"path/filepath"
)

// errMark is the error of a mark's file that cannot be trusted.
var errMark = errors.New("the mark is damaged")

func (s *Store) markPath(mark [32]byte) string {
	return filepath.Join(s.dir, hex.EncodeToString(mark[:])+markEnding)
}

// Note remembers under a file's mark which picture it holds, so that Find can
// tell before the file has been read. A store that cannot be written to
// forgets it.
func (s *Store) Note(mark, key [32]byte) {
	f, name, err := createFile(s.dir, s.partPattern("mark"))
	if err != nil {
		return
	}
	_, err = f.WriteAt(binary.LittleEndian.AppendUint32(key[:], crc32.Checksum(key[:], castagnoli())), 0)
	err = errors.Join(err, f.Close())
	if err == nil {
		err = os.Rename(name, s.markPath(mark))
	}
	if err != nil {
		_ = os.Remove(name) // swept later if this fails too
	}
}

// readMark reads the key noted in a mark's file.
func readMark(path string) (key [32]byte, err error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return key, err
	}
	if len(b) != 36 || crc32.Checksum(b[:32], castagnoli()) != binary.LittleEndian.Uint32(b[32:]) {
		return key, errMark
	}
	return [32]byte(b), nil
}
