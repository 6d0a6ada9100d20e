package main

import (
	"archive/tar"
	"archive/zip"
	"compress/gzip"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

// A packedFile is a file below a staged folder, by its path in the package.
type packedFile struct {
	name string // with slashes
	mode fs.FileMode
}

// stagedFiles lists the files below dir in the order of their names.
func stagedFiles(dir string) ([]packedFile, error) {
	var all []packedFile
	err := filepath.WalkDir(dir, func(at string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, at)
		f := packedFile{filepath.ToSlash(name), 0o644}
		if strings.HasPrefix(f.name, "usr/bin/") {
			f.mode = 0o755
		}
		all = append(all, f)
		return err
	})
	return all, err
}

// stage writes a file below dir and makes the folders it needs.
func stage(dir, name string, content []byte) error {
	at := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
		return err
	}
	return os.WriteFile(at, content, 0o644)
}

// writeTar packs the files of dir into a tar.gz, below the folder top in place of the
// prefix cut. Nothing in it depends on where or when it is made.
func writeTar(file, dir, cut, top string, at time.Time) error {
	return packInto(file, dir, func(out *os.File) (func(packedFile, []byte) error, func() error) {
		zipped, _ := gzip.NewWriterLevel(out, gzip.BestCompression) // the level is a valid one
		w := tar.NewWriter(zipped)
		add := func(f packedFile, content []byte) error {
			h := &tar.Header{Name: path.Join(top, strings.TrimPrefix(f.name, cut)), Mode: int64(f.mode), Size: int64(len(content)), ModTime: at}
			if err := w.WriteHeader(h); err != nil {
				return err
			}
			_, err := w.Write(content)
			return err
		}
		return add, func() error {
			if err := w.Close(); err != nil {
				return err
			}
			return zipped.Close()
		}
	})
}

// writeZip packs the files of dir into a zip archive, below the folder top.
func writeZip(file, dir, top string, at time.Time) error {
	return packInto(file, dir, func(out *os.File) (func(packedFile, []byte) error, func() error) {
		w := zip.NewWriter(out)
		add := func(f packedFile, content []byte) error {
			entry, err := w.CreateHeader(&zip.FileHeader{Name: path.Join(top, f.name), Method: zip.Deflate, Modified: at})
			if err != nil {
				return err
			}
			_, err = entry.Write(content)
			return err
		}
		return add, w.Close
	})
}

// packInto gives every file of dir to the writer that begin makes.
func packInto(file, dir string, begin func(*os.File) (add func(packedFile, []byte) error, end func() error)) error {
	files, err := stagedFiles(dir)
	if err != nil {
		return err
	}
	out, err := os.Create(file)
	if err != nil {
		return err
	}
	defer out.Close()
	add, end := begin(out)
	for _, f := range files {
		content, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f.name)))
		if err != nil {
			return err
		}
		if err := add(f, content); err != nil {
			return err
		}
	}
	if err := end(); err != nil {
		return err
	}
	return out.Close()
}
