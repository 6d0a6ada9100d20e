package rectify

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"legwright/app/geodesy"
	"legwright/mapio/atomicfile"
	"legwright/mapio/georef"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// Files returns the picture and its world file, which Save always writes.
func Files(path string) []string { return []string{path, WorldName(path)} }

// GridFile returns the name of the file that defines the grid, which Save writes
// beside the picture: with the ending .prj, or "" for a grid that well-known text
// of version 1 cannot define.
func GridFile(path string, s *geodesy.System) string {
	if gridText(s) == "" {
		return ""
	}
	return gridName(path)
}

func gridName(path string) string { return strings.TrimSuffix(path, filepath.Ext(path)) + ".prj" }

// inTheWay returns an existing file that would give the rectified map another
// position, or another picture that the written files would give a position, or "".
// grid is the content of the .prj, or "".
func inTheWay(path, grid string) string {
	folder, base := filepath.Split(path)
	_, world, _ := georef.FindWorld(openfile.Inside(filepath.Clean(folder)), base, scan.Header{}) // a damaged one counts too
	if world != "" && world != filepath.Base(WorldName(path)) {
		return filepath.Join(folder, world)
	}
	prj := filepath.Base(gridName(path))
	list, _ := os.ReadDir(filepath.Clean(folder)) // writing reports the fault
	for _, e := range list {
		name := e.Name()
		_, other := FormatOf(name)
		switch {
		case strings.EqualFold(name, base+".prj"), strings.EqualFold(name, base+".aux.xml"),
			strings.EqualFold(name, prj) && (name != prj || !holds(gridName(path), grid)),
			other == nil && name != base && WorldName(name) == filepath.Base(WorldName(path)): // a .jpg beside a .jpeg
			return filepath.Join(folder, name)
		}
	}
	return ""
}

// holds reports whether the content of a file is exactly text.
func holds(name, text string) bool {
	old, err := os.ReadFile(name)
	return err == nil && text != "" && string(old) == text
}

// Save writes the picture, its world file and, if well-known text of version 1 can
// define its grid, a .prj. It replaces existing files, read-only ones only if over
// is true.
//
// It deletes the old world file just before the new picture replaces the old one,
// and writes the new world file last. So a crash leaves the old picture with its
// own world file, or a picture without one, which claims no position; never a
// picture beside the world file of another. An error, or the end of ctx, before the
// picture is complete leaves the existing files unchanged. Errors are those of
// Write and of package atomicfile. Nothing is written if another file would give
// the picture another position.
func Save(ctx context.Context, path string, s Sheet, f Frame, over bool, progress func(done, all int)) error {
	format, err := FormatOf(path)
	if err != nil {
		return err
	}
	o := atomicfile.Options{ReadOnly: over}
	for _, name := range append(Files(path), gridName(path)) {
		if err := atomicfile.Check(name, o); err != nil {
			return err
		}
	}
	grid := gridText(s.System)
	if name := inTheWay(path, grid); name != "" {
		return fmt.Errorf("%s already exists, and other programs would take the position of the rectified map from it: choose another name for the map", name)
	}
	draw := func(w io.Writer) error { return Write(ctx, w, s, f, format, progress) }
	for i, step := range saving(path, grid, f.WorldFile(s.System), o, draw) {
		if err := step(); err != nil && i > 0 {
			return fmt.Errorf("%w. Without that file %s has no position: export it again", err, path)
		} else if err != nil {
			return err
		}
	}
	return nil
}

// saving returns the steps of Save in order.
func saving(path, grid, world string, o atomicfile.Options, draw func(io.Writer) error) []func() error {
	picture := o
	picture.Ready = func() error {
		if err := os.Remove(WorldName(path)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s was not written: its old world file cannot be deleted: %w", path, err)
		}
		return nil
	}
	steps := []func() error{func() error { return atomicfile.Write(path, picture, draw) }}
	if grid != "" {
		steps = append(steps, func() error { return atomicfile.WriteBytes(gridName(path), o, []byte(grid)) })
	}
	return append(steps, func() error { return atomicfile.WriteBytes(WorldName(path), o, []byte(world)) })
}

// gridText defines the grid in well-known text, or is "" if that cannot define it.
func gridText(s *geodesy.System) string {
	if s == nil {
		return ""
	}
	text, err := s.WKT1()
	if err != nil {
		return ""
	}
	return text + "\n"
}
