package headless

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"legwright/mapio/atomicfile"
	"legwright/mapio/legpack"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

const packHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan. The packed plan contains the
plan, its pictures and its terrain, and nothing else; open it in the window, or unpack it.

Terrain files of more than 8 MB are cut to 5 km around the plan, or left out if they do not
reach there. The packed plan then has a different plan number from papers printed before.
Its escapes keep their ticks if no file is left out; otherwise they are DRAFT until they are
ticked again.
`

const unpackHelp = `
PACK is a packed plan, NAME.legpack. FOLDER must not exist yet: nothing is overwritten. A
pack that is damaged, or contains anything that its plan does not name, is refused, and
nothing is unpacked.
`

func packCommand() command {
	return command{name: "pack", usage: "PLAN --to NAME.legpack [--force]", about: "pack a plan with its pictures and terrain into one file", run: runPack}
}

func unpackCommand() command {
	return command{name: "unpack", usage: "PACK --to FOLDER", about: "unpack a packed plan into a new folder", run: runUnpack}
}

func runPack(c command, args []string, s streams) error {
	o := newOptions(c, packHelp)
	out := o.String("to", "", "the `FILE` to write")
	force := o.Bool("force", false, "overwrite a read-only file")
	words, err := o.read(args, s)
	if err != nil {
		return err
	}
	name, err := onePlan(words)
	switch {
	case err != nil:
		return err
	case !strings.EqualFold(filepath.Ext(*out), legpack.Ext):
		return usagef("name the file to write, such as --to walk%s", legpack.Ext)
	}
	r, reach, err := readGround(name, s)
	if err != nil {
		return err
	}
	var packed legpack.Packed
	err = target{file: *out, force: *force}.fill(func(w io.Writer) (err error) {
		packed, err = legpack.Pack(context.Background(), w, r, opensWithin(reach))
		return err
	})
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%s: %s\n", *out, packed)
	return err
}

// opensWithin opens the files of a plan as far as they may be opened unasked.
func opensWithin(reach planfile.Reach) legpack.Opener {
	return func(file string) (fs.File, error) {
		if slices.Contains(reach.Ask, file) {
			return nil, fmt.Errorf("%s is outside the plan's folder, so it was not opened: first open the plan in the window and agree to open this file", file)
		}
		return planFile(file, reach)
	}
}

// fill writes what fill writes, whole or not at all.
func (t target) fill(fill func(io.Writer) error) error {
	return readOnlyWords(atomicfile.Write(t.file, atomicfile.Options{ReadOnly: t.force, Private: t.private}, fill))
}

func runUnpack(c command, args []string, s streams) error {
	o := newOptions(c, unpackHelp)
	to := o.String("to", "", "the `FOLDER` to make")
	words, err := o.read(args, s)
	switch {
	case err != nil:
		return err
	case len(words) != 1:
		return usagef("name one packed plan, such as walk%s", legpack.Ext)
	case *to == "":
		return usagef("name the folder to make, such as --to walk")
	}
	f, err := openfile.Open(words[0])
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	name, err := legpack.Unpack(context.Background(), f, info.Size(), *to)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintln(s.out, name)
	return err
}
