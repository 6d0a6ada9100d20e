package straight

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"legwright/mapio/beside"
)

// Files are the files that Save writes for a picture: itself and its world
// file.
func Files(path string) []string { return []string{path, WorldName(path)} }

// Rival is a .prj file that lies beside a picture already and would say of it
// which grid it is on, or "".
func Rival(path string) string {
	for _, name := range []string{strings.TrimSuffix(path, filepath.Ext(path)) + ".prj", path + ".prj"} {
		if _, err := os.Lstat(name); err == nil {
			return name
		}
	}
	return ""
}

// Save writes the picture and its world file, in the place of what is there.
// Both are whole before either takes its place; after an error, or when ctx
// ends, what was there is as it was. The errors are those of Write, and those
// of the file system, with the name of the file that was meant. Beside a Rival
// nothing is written.
func Save(ctx context.Context, path string, s Sheet, f Frame, progress func(done, all int)) error {
	format, err := FormatOf(path)
	if err != nil {
		return err
	}
	if name := Rival(path); name != "" {
		return fmt.Errorf("%s lies there and would say which grid the picture is on: name another file for the straightened picture", name)
	}
	world := WorldName(path)
	picture, err := beside.Write(path, func(w io.Writer) error { return Write(ctx, w, s, f, format, progress) })
	if err != nil {
		return err
	}
	lines, err := beside.Write(world, func(w io.Writer) error {
		_, err := io.WriteString(w, f.WorldFile(s.System))
		return err
	})
	if err != nil {
		_ = os.Remove(picture) // what matters is why there is no world file
		return err
	}
	if err = context.Cause(ctx); err == nil {
		err = swap(picture, path, lines, world)
	}
	if err != nil {
		_, _ = os.Remove(picture), os.Remove(lines) // likewise
	}
	return err
}

// swap puts both files in their places. An older world file goes before the
// picture comes, for it would say of the new one where the old one lay.
func swap(picture, path, lines, world string) error {
	if err := os.Remove(world); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s was not written: %w", world, beside.Reason(err))
	}
	if err := beside.Rename(picture, path); err != nil {
		return err
	}
	if err := os.Rename(lines, world); err != nil {
		return fmt.Errorf("%s was not written, and %s has no place without it: %w", world, path, beside.Reason(err))
	}
	return nil
}
