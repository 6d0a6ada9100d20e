// Package legpack packs a plan with its pictures and terrain into one file, NAME.legpack, and
// unpacks it into a folder of its own. The file is a zip archive of plan.legplan, pictures/ and
// terrain/, and of nothing else. No personal data goes in: a plan holds none.
//
// A terrain file of more than KeepWhole bytes is cut to the ground within AroundM of whatever the
// plan holds. A cut file is another file: the packed plan has another number, and the ticks of
// its escapes no longer count. Smaller ones stay as they are.
//
// A pack comes from anywhere. Nothing of it is written before its list of contents is found to
// be sound: each entry is an ordinary file with a plain name that the plan itself names, none
// twice, none larger than it says, all with the SHA-256 that the plan has. It is unpacked beside
// the folder that it is for, and moved there when all of it is whole.
package legpack

import (
	"errors"
	"fmt"
)

// Ext is the ending of a packed plan.
const Ext = ".legpack"

// Names within a pack.
const (
	planName   = "plan.legplan"
	pictureDir = "pictures/"
	terrainDir = "terrain/"
)

// Limits, in bytes and in number. A bomb is small until it is unpacked: beyond freeBytes, no
// pack may grow more than mostGrowth times.
const (
	KeepWhole  = 8 << 20 // of a terrain file that is not cut
	MaxBytes   = 4 << 30 // of all content
	maxEntries = 1000
	freeBytes  = 256 << 20
	mostGrowth = 100
)

// The kinds of failure of Unpack.
var (
	// ErrNotPack: it is no packed plan, or a damaged one.
	ErrNotPack = errors.New("this is not a whole packed plan: ask for it again")
	// ErrUnsafe: its content is not what a pack may hold.
	ErrUnsafe = errors.New("this packed plan is refused")
	// ErrTooLarge: more than the limits allow.
	ErrTooLarge = errors.New("this packed plan is too large once unpacked")
	// ErrExists: the folder is there already.
	ErrExists = errors.New("it is there already, and nothing is overwritten: choose another folder")
)

func unsafe(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrUnsafe, fmt.Sprintf(format, args...))
}
