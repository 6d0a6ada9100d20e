package planfile

import (
	"errors"
	"fmt"
)

// NotAPlan is returned for a file that is not a plan at all.
type NotAPlan struct{ Reason string }

func (e *NotAPlan) Error() string { return "this is not a plan file: " + e.Reason }

// NewerVersion is returned for a plan written by a newer version of the
// program.
type NewerVersion struct{ Version, Known int }

func (e *NewerVersion) Error() string {
	return fmt.Sprintf("the plan was written by a newer version of the program (file version %d, this program knows up to %d): update the program to open it", e.Version, e.Known)
}

// CutOff is returned for a plan file that ends too early.
type CutOff struct{ Bytes int }

func (e *CutOff) Error() string {
	return fmt.Sprintf("the plan file is cut off after %d bytes: the copy in the same folder that ends in .bak may be complete", e.Bytes)
}

// Broken is returned for a plan file with something in it that cannot be.
type Broken struct{ Reason string }

func (e *Broken) Error() string { return "the plan file is damaged: " + short(e.Reason) }

// short cuts the middle out of a sentence that quotes the file: a number or a date
// of millions of characters would freeze the window.
func short(reason string) string {
	const head, tail = 300, 150 // characters
	r := []rune(reason)
	if len(r) <= head+tail {
		return reason
	}
	return string(r[:head]) + " … " + string(r[len(r)-tail:])
}

// TooMany is returned for a plan file in which a list is longer than allowed.
type TooMany struct {
	What  string // the entries of the list: "control points"
	Most  int
	Where string // the owner of the list: "sheet 2", or "" for the plan
}

func (e *TooMany) Error() string {
	where := e.Where
	if where == "" {
		where = "the plan"
	}
	return fmt.Sprintf("%s has more than %d %s, the most allowed: delete some from the file", where, e.Most, e.What)
}

// MaxBytes is the size above which a plan file is not read.
const MaxBytes = 128 << 20

// ErrTooLarge is returned for a file above MaxBytes.
var ErrTooLarge = errors.New("the plan file is larger than 128 MiB, too large for a plan")
