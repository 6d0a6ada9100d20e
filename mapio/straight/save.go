package straight

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"legwright/app/geodesy"
	"legwright/mapio/scan"
)

// Files are the picture and its world file, which Save writes always.
func Files(path string) []string { return []string{path, WorldName(path)} }

// GridFile is the name of the definition of its grid, which Save writes beside a
// picture: .prj in the place of its ending, "" for a grid that has no words in
// well-known text of version 1.
func GridFile(path string, s *geodesy.System) string {
	if gridText(s) == "" {
		return ""
	}
	return gridName(path)
}

func gridName(path string) string { return strings.TrimSuffix(path, filepath.Ext(path)) + ".prj" }

// rival says what lies beside a picture already and would place it, or would be
// placed by what is written beside it, "" where nothing does. grid is the text
// that says on which grid the picture is, "" where there are no words for it.
func rival(path, grid string) string {
	folder, base := filepath.Dir(path), filepath.Base(path)
	list, err := os.ReadDir(folder)
	if err != nil {
		return "" // it will be said when it is written
	}
	world, prj := filepath.Base(WorldName(path)), filepath.Base(gridName(path))
	for _, e := range list {
		name := e.Name()
		switch {
		case is(name, base+".prj"), is(name, base+".aux.xml"), is(name, world) && name != world, is(name, prj) && (name != prj || !holds(filepath.Join(folder, name), grid)):
			return fmt.Sprintf("%s lies there and would say where the picture lies", filepath.Join(folder, name))
		case !is(name, base) && is(gridName(name), prj) && is(worldOf(folder, name), world):
			return fmt.Sprintf("%s lies there, and %s says where it lies", filepath.Join(folder, name), world)
		case grid != "" && !is(name, base) && is(gridName(name), prj) && worldOf(folder, name) != "" && !holds(filepath.Join(folder, prj), grid):
			return fmt.Sprintf("%s lies there with a world file, and %s would say of it too which grid it is on", filepath.Join(folder, name), prj)
		}
	}
	return ""
}

// is compares names of files as those do who look for what lies beside a
// picture, whatever its case.
func is(name, other string) bool { return strings.EqualFold(name, other) }

// holds reports whether a file holds a text and nothing else.
func holds(name, text string) bool {
	old, err := os.ReadFile(name)
	return err == nil && text != "" && string(old) == text
}

// worldOf is the world file of a picture, "" where it has none.
func worldOf(folder, name string) string {
	_, file, _ := scan.FindWorld(os.DirFS(folder), name, scan.Header{})
	return file
}

// Save writes the picture, its world file and the definition of its grid, in the
// place of what is there. All are whole before any takes its place; after an
// error, or when ctx ends, what was there is as it was. The errors are those of
// Write, and those of the file system, with the name of the file that was meant.
// Nothing is written where something else lies there that would say where the
// picture lies, or that would be placed by what is written. A grid that has no
// words in well-known text of version 1 gets no definition.
func Save(ctx context.Context, path string, s Sheet, f Frame, progress func(done, all int)) (err error) {
	format, err := FormatOf(path)
	if err != nil {
		return err
	}
	grid := gridText(s.System)
	if why := rival(path, grid); why != "" {
		return fmt.Errorf("%s: name another file for the straightened picture", why)
	}
	var made set
	defer func() {
		if err != nil {
			made.drop()
		}
	}()
	err = made.add(path, func(w io.Writer) error { return Write(ctx, w, s, f, format, progress) })
	if err == nil {
		err = made.add(WorldName(path), textOf(f.WorldFile(s.System)))
	}
	if err == nil && grid != "" {
		err = made.add(gridName(path), textOf(grid))
	}
	if err == nil {
		err = context.Cause(ctx)
	}
	if err != nil {
		return err
	}
	return made.place()
}

// gridText defines the grid, "" where well-known text has no words for it.
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

func textOf(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}
