package dem

import (
	"archive/zip"
	"bufio"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

const epsgWGS84 = 4326

func isHGT(name string) bool { return strings.EqualFold(path.Ext(name), ".hgt") }

// hgtPosts is the lattice of a file by its name, such as N44W072.hgt, and its size.
func hgtPosts(name string, size int64) (posts, error) {
	var ns, ew byte
	var lat, lon int
	stem := strings.ToUpper(path.Base(name))
	n, _ := fmt.Sscanf(stem, "%c%2d%c%3d.HGT", &ns, &lat, &ew, &lon)
	if n != 4 || strings.IndexByte("NS", ns) < 0 || strings.IndexByte("EW", ew) < 0 || lat < 0 || lat > 90 || lon < 0 || lon > 180 {
		return posts{}, notTerrain("the name of an .hgt file says where it lies, such as N44W072.hgt; %s does not", name)
	}
	if ns == 'S' {
		lat = -lat
	}
	if ew == 'W' {
		lon = -lon
	}
	side := 0
	for _, s := range [...]int{1201, 3601} {
		if size == 2*int64(s)*int64(s) {
			side = s
		}
	}
	if side == 0 {
		return posts{}, damaged("an .hgt file has 2,884,802 or 25,934,402 bytes; this one has %d", size)
	}
	system, err := geodesy.Lookup(geodesy.EPSG(epsgWGS84))
	if err != nil {
		return posts{}, err
	}
	step := system.FromUnits(1/float64(side-1), 1/float64(side-1))
	return posts{system, system.FromUnits(float64(lon), float64(lat+1)), step.E, step.N, side, side}, nil
}

func openHGT(ctx context.Context, r io.ReaderAt, size int64, name string, want Want) (*terrain.Tile, error) {
	p, err := hgtPosts(name, size)
	if err != nil {
		return nil, err
	}
	return p.readHGT(ctx, io.NewSectionReader(r, 0, size), want)
}

// openZip reads the one .hgt file of an archive.
func openZip(ctx context.Context, r io.ReaderAt, size int64, name string, want Want) (*terrain.Tile, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, damaged("its list of files cannot be read (%v)", err)
	}
	var inner *zip.File
	for _, f := range z.File {
		if !isHGT(f.Name) {
			continue
		}
		if inner != nil {
			return nil, notTerrain("%s contains several .hgt files: unpack it, and open those that cover the sheet", name)
		}
		inner = f
	}
	if inner == nil {
		return nil, notTerrain("%s contains no .hgt file: unpack it, and open the terrain in it", name)
	}
	p, err := hgtPosts(inner.Name, int64(min(inner.UncompressedSize64, 1<<40)))
	if err != nil {
		return nil, err
	}
	in, err := inner.Open()
	if err != nil {
		return nil, damaged("%s in it cannot be unpacked (%v)", inner.Name, err)
	}
	defer in.Close()
	return p.readHGT(ctx, in, want)
}

// readHGT reads the window of a file from its beginning.
func (p posts) readHGT(ctx context.Context, in io.Reader, want Want) (*terrain.Tile, error) {
	r, err := p.window(want.Area)
	if err != nil {
		return nil, err
	}
	t, row := p.tile(r, want.unitM(), true), make([]byte, 2*p.cols)
	if s, ok := in.(io.Seeker); ok {
		_, err = s.Seek(int64(r.Min.Y)*int64(len(row)), io.SeekStart)
	} else {
		_, err = io.CopyN(io.Discard, in, int64(r.Min.Y)*int64(len(row)))
	}
	buffered := bufio.NewReaderSize(in, 1<<16)
	for y := 0; y < r.Dy() && err == nil; y++ {
		if err = context.Cause(ctx); err != nil {
			return nil, err
		}
		if _, err = io.ReadFull(buffered, row); err != nil {
			break
		}
		out := t.Whole[y*t.Cols : (y+1)*t.Cols]
		for x := range out { // a void is NoHeight in the file too
			out[x] = int16(binary.BigEndian.Uint16(row[2*(r.Min.X+x):]))
		}
		want.tell(y+1, r.Dy())
	}
	return t, cut(err)
}

// cut turns the end of a file that came too soon, and damage in an archive, into an error
// of this package.
func cut(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return damaged("it ends too soon")
	case errors.Is(err, zip.ErrChecksum), errors.Is(err, zip.ErrFormat), errors.Is(err, zip.ErrAlgorithm):
		return damaged("%v", err)
	}
	return err
}
