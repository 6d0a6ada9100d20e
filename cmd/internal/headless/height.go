package headless

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/mapio/dem"
	"legwright/mapio/openfile"
)

const heightHelp = `
Reads rows "easting northing" in the grid's printed unit and writes height_m slope_deg
aspect_deg for each: the height (bilinear between those of the terrain, in its own grid), how
steep the ground is (Horn, 3 × 3 heights), and the direction in which it falls, clockwise from
grid north. On level ground the aspect is -. At the edge of the terrain, where the heights for
a slope are missing, slope and aspect are both -. A position without terrain is an error.

Give --terrain several times to join files into one model: .hgt (plain or zipped), GeoTIFF,
Esri ASCII grid. An ASCII grid does not say which grid it is on: the program uses
--terrain-grid, or else the grid of the .prj file beside it, or else --grid. Heights are in
metres in every file, or with --feet in feet. At most 64 million heights are read.
`

func heightCommand() command {
	return command{
		name:  "height",
		usage: "--terrain FILE… --grid GRID [--feet] [--terrain-grid GRID] < ROWS",
		about: "give height, slope and aspect of the ground from terrain files",
		run:   runHeight,
	}
}

// filesFlag collects the names of files; it may be given several times.
type filesFlag []string

func (f *filesFlag) String() string { return strings.Join(*f, " ") }

func (f *filesFlag) Set(name string) error {
	*f = append(*f, name)
	return nil
}

func runHeight(c command, args []string, s streams) error {
	o := newOptions(c, heightHelp)
	var files filesFlag
	var grid, own gridFlag
	o.Var(&files, "terrain", "a terrain `FILE`; may be given several times")
	o.Var(&grid, "grid", gridWords)
	o.Var(&own, "terrain-grid", "the `GRID` of files that do not name one (default that of their .prj file, or else --grid)")
	feet := o.Bool("feet", false, "heights in the files are in feet")
	more, err := o.read(args, s)
	if err != nil {
		return err
	}
	system, err := grid.need()
	if err != nil {
		return err
	}
	files = slices.Concat(files, more) // a shell's pattern gives several after one flag
	if len(files) == 0 {
		return usagef("--terrain is missing: give a terrain file, such as --terrain N44W072.hgt")
	}
	want := dem.Want{Feet: *feet}
	if own.system != nil {
		want.Grid = own.system.Code()
	}
	model, err := readTerrain(files, want, system.Code())
	if err != nil {
		return err
	}
	newNotes(s).caution("", caution.Of(caution.BlindTerrain, fmt.Sprintf("%.0f m", terrain.Blind(model, 0))))
	ground := model.On(system)
	return runBatch(s, func() rowFunc { return heightRow(ground, system) })
}

// readTerrain reads files as one model. Files of which nothing says the grid are on grid.
func readTerrain(names []string, want dem.Want, grid geodesy.Code) (*terrain.Model, error) {
	var tiles []*terrain.Tile
	for _, name := range names {
		t, err := readTile(name, want, grid)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		tiles = append(tiles, t)
	}
	return terrain.NewModel(tiles...)
}

func readTile(name string, want dem.Want, grid geodesy.Code) (*terrain.Tile, error) {
	f, err := openfile.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	t, err := dem.Open(context.Background(), f, info.Size(), filepath.Base(name), want)
	if !errors.Is(err, dem.ErrNoGrid) {
		return t, err
	}
	code, prj, err := dem.GridBeside(openfile.Picked(name))
	switch {
	case err != nil:
		return nil, fmt.Errorf("its grid is not known: %w. Name it with --terrain-grid", err)
	case prj == "":
		code = grid
	}
	want.Grid = code
	return dem.Open(context.Background(), f, info.Size(), filepath.Base(name), want)
}

var errNoTerrain = errors.New("there is no terrain at this position")

// heightRow answers one row.
func heightRow(ground terrain.Ground, system *geodesy.System) rowFunc {
	return func(dst, line []byte) ([]byte, error) {
		var v [2]float64
		if _, err := numbers(v[:], 2, line, "easting northing"); err != nil {
			return nil, err
		}
		at := system.FromUnits(v[0], v[1])
		h, ok := ground.Height(at)
		if !ok {
			return nil, errNoTerrain
		}
		dst = append(appendNumber(dst, h), '\t')
		slope, ok := ground.Slope(at)
		switch {
		case !ok:
			return append(dst, "-\t-"...), nil
		case slope.Level:
			return append(dst, "0\t-"...), nil
		}
		return appendRow(dst, slope.Steep.Deg(), slope.Downhill.Angle().Deg()), nil
	}
}
