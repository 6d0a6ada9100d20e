package scan

import (
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"legwright/app/geodesy"
)

// maxPrj bounds what is read of a .prj file, in bytes.
const maxPrj = 64 << 10

// placeOf is what a picture's own tags say about where it lies, else what a
// world file with a .prj file beside it says; nil if nothing does. A world
// file alone names no grid and gives no place: see FindWorld. What lays the
// picture over the ground goes before both.
func placeOf(fsys fs.FS, name string, at io.ReaderAt, size int64, h Header) *Place {
	if o, ok := fsys.(*overlaid); ok {
		plain := h
		plain.Page, plain.Pages = 0, 0 // those of the overlays
		return o.place(h, placeOf(o.FS, name, at, size, plain))
	}
	var own *Place
	if h.Format == "TIFF" {
		own = placeOfTIFF(at, size, h)
	}
	world, file, err := FindWorld(fsys, name, h)
	if world == nil || err != nil {
		return own
	}
	beside := placeOfWorld(fsys, name, *world, file)
	if beside != nil {
		beside.SigmaM, beside.States, beside.Cautions = h.PositionM, h.PositionM > 0, h.Cautions
	}
	switch {
	case own == nil:
		return beside
	case own.System == nil && beside != nil && beside.System != nil:
		beside.Warnings = append(beside.Warnings, fmt.Sprintf(
			"the picture's own keys place it otherwise or on a grid that is not known (%s); %s is taken", own.Unknown, file))
		return beside
	case beside != nil:
		own.Warnings = append(own.Warnings, fmt.Sprintf("%s lies beside it too; the picture's own keys are taken", file))
	}
	return own
}

// placeOfWorld is the place a world file gives on the grid that a .prj file
// beside the picture defines, nil without such a file.
func placeOfWorld(fsys fs.FS, name string, w World, file string) *Place {
	dir, base := path.Split(name)
	prj := inFolder(fsys, dir, []string{strings.TrimSuffix(base, path.Ext(base)) + ".prj", base + ".prj"})
	if prj == "" {
		return nil
	}
	p := &Place{Source: fmt.Sprintf("world file %s with %s", path.Base(file), path.Base(prj))}
	text, err := readPrj(fsys, prj)
	if err == nil {
		p.System, err = geodesy.Define(text)
	}
	if err != nil {
		p.System, p.Unknown = nil, fmt.Sprintf("%s: %v", path.Base(prj), err)
		return p
	}
	u := p.System.Unit().Metres
	p.Matrix = &[6]float64{w.A * u, w.B * u, w.C * u, w.D * u, w.E * u, w.F * u}
	return p
}

func readPrj(fsys fs.FS, name string) (string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxPrj+1))
	if len(b) > maxPrj {
		return "", fmt.Errorf("it is longer than %d kB, no definition of a grid is", maxPrj>>10)
	}
	return string(b), err
}
