package dem

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"

	"legwright/app/terrain"
)

// OpenHashed is Open for an open file, with the SHA-256 of all of it in lower-case hexadecimal
// digits, also beside an error of Open. The file must be an io.ReaderAt, as those of a
// disk and of memory are.
func OpenHashed(ctx context.Context, f fs.File, name string, want Want) (*terrain.Tile, string, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, "", err
	}
	at, ok := f.(io.ReaderAt)
	if !ok {
		return nil, "", fmt.Errorf("%s can only be read from its start: %w", name, fs.ErrInvalid)
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, &ending{ctx, f}); err != nil {
		return nil, "", err
	}
	t, err := Open(ctx, at, info.Size(), name, want)
	return t, hex.EncodeToString(sum.Sum(nil)), err
}

// ending ends a copy with its context.
type ending struct {
	ctx context.Context
	io.Reader
}

func (e *ending) Read(p []byte) (int, error) {
	if err := context.Cause(e.ctx); err != nil {
		return 0, err
	}
	return e.Reader.Read(p)
}
