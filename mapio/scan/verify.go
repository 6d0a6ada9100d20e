package scan

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"legwright/mapio/jpg"
)

const (
	// smallJPEG is the size of file, in bytes, up to which the walk through
	// its data takes so little time that opening waits for it.
	smallJPEG = 1 << 20
	// tail is how far from the end of a file the end mark is looked for.
	tail = 64 << 10
)

// checkAtOnce says whether opening must wait for the walk: for small files,
// and for those that are cut off, whose blank part has to be found.
func checkAtOnce(f *file) bool { return f.size <= smallJPEG || !endMarkNear(f.section()) }

// endMarkNear looks for a JPEG's end mark near the end of the file.
func endMarkNear(r *io.SectionReader) bool {
	b := make([]byte, min(tail, r.Size()))
	if _, err := r.ReadAt(b, r.Size()-int64(len(b))); err != nil && err != io.EOF {
		return false
	}
	return bytes.Contains(b, []byte{0xff, 0xd9})
}

// Verify finishes, for a JPEG, the search for damage that opening did not
// wait for, since it takes more than half as long as the decoding: call it on
// a goroutine as soon as the picture is on the screen, and show what it
// returns like the other Warnings. A picture whose blocks have slipped shows
// the ground in the wrong place and looks sound. It returns nothing for a
// sound picture and for other formats, and an error if the file cannot be
// read any more or ctx ends. It does not change the Scan.
func (s *Scan) Verify(ctx context.Context) (warnings []string, err error) {
	if s.verified || s.reopen == nil {
		return nil, nil
	}
	defer contain(&err)
	f, err := s.reopen()
	if err != nil {
		return nil, fmt.Errorf("the picture could not be checked for damage: %w", err)
	}
	defer f.close()
	v, err := jpg.Check(ctx, contextReader{ctx, f.section()})
	if err != nil {
		return nil, fmt.Errorf("the picture could not be checked for damage: %w", err)
	}
	late := Scan{Header: s.Header}
	_, rows := s.Header.Stored()
	late.report(v, rows)
	return late.Warnings, nil
}
