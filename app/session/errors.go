package session

import (
	"errors"
	"fmt"

	"legwright/app/plan"
)

// Errors of intentions.
var (
	// ErrNoSheet is returned where a picture must be open first.
	ErrNoSheet = errors.New("no sheet is open: open the picture of a map first")
	// ErrNoGrid is returned where plain numbers are typed before the grid is
	// known.
	ErrNoGrid = errors.New("the grid is not known yet: choose it, or type a reference with its letters")
)

// NotFound is returned for an ID that nothing in the plan has.
type NotFound struct {
	What string // "mark", "leg", "sight", "sheet"
	ID   plan.ID
}

func (e *NotFound) Error() string { return fmt.Sprintf("there is no %s %q in the plan", e.What, e.ID) }

// Refused is returned for an act that cannot be done as asked; Reason is a
// sentence for people.
type Refused struct{ Reason string }

func (e *Refused) Error() string { return e.Reason }

func refuse(format string, args ...any) error { return &Refused{fmt.Sprintf(format, args...)} }
