// Package legpack packs a plan with its pictures and terrain into one file, NAME.legpack, and
// unpacks it into a folder of its own. The file is a zip archive of plan.legplan, pictures/ and
// terrain/, and of nothing else. No personal data goes in: a plan holds none.
//
// A terrain file of more than KeepWhole bytes is cut to the ground within AroundM of whatever the
// plan holds, with the same heights there. Its checksum changes with that, so the packed plan has
// another number. The plan names the file that it was cut from, so ticks of escapes stay. A large
// file that does not reach there is left out; then the ticks no longer count. Smaller files stay as
// they are.
//
// A pack may come from anywhere. Nothing of it is written before its list of contents is checked:
// each entry is an ordinary file with a plain name that the plan itself names, none
// twice, none larger than it says, all with the SHA-256 that the plan has. It is unpacked beside
// the folder that it is for, and moved there once all of it is complete.
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
	// ErrNotPack: it is not a packed plan, or a damaged one.
	ErrNotPack = errors.New("this packed plan is incomplete or damaged: ask for it again")
	// ErrUnsafe: its content is not what a pack may hold.
	ErrUnsafe = errors.New("this packed plan is refused")
	// ErrTooLarge: more than the limits allow.
	ErrTooLarge = errors.New("this packed plan is too large once unpacked")
	// ErrExists: the folder already exists.
	ErrExists = errors.New("it already exists, and nothing is overwritten: choose another folder")
)

func unsafe(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrUnsafe, fmt.Sprintf(format, args...))
}
