package session

import (
	"errors"

	"legwright/app/plan"
)

// Stamp is what a plan file looked like when it was last read or written.
type Stamp = plan.Stamp

// Store reads and writes plan files. Pictures of sheets in memory are named by
// absolute path; the store writes them relative to the plan.
type Store interface {
	// Load reads a plan and what its file looked like.
	Load(path string) (*plan.Plan, Stamp, error)
	// Save writes a plan and replaces only what over allows. If the file is not the
	// expected one it writes nothing and returns ErrChangedOnDisk.
	Save(path string, p *plan.Plan, over plan.Overwrite) (Stamp, error)
}

// Journal keeps every completed act until the plan is saved, for recovery
// after a crash. None of its methods but Close may wait for the disk.
type Journal interface {
	// Document says which file the plan belongs to ("" for none yet) and what
	// it looked like.
	Document(path string, base Stamp)
	// Append adds the plan that an act led to.
	Append(step string, p *plan.Plan)
	// Clear forgets everything: the plan is saved or discarded.
	Clear()
	// Close writes what is waiting and ends the journal.
	Close() error
}

// Errors of files.
var (
	// ErrChangedOnDisk is returned by Save for a file that another program has
	// changed since it was opened; with OverChanged it saves all the same.
	ErrChangedOnDisk = plan.ErrChangedOnDisk
	// ErrNoPath is returned by Save for a plan that has no file yet.
	ErrNoPath = errors.New("the plan has no file yet: choose a name to save it under")
	// ErrNoStore is returned where a session was made without a store.
	ErrNoStore = errors.New("this session cannot open or save files")
)

// noJournal stands in where no journal is kept.
type noJournal struct{}

func (noJournal) Document(string, Stamp)    {}
func (noJournal) Append(string, *plan.Plan) {}
func (noJournal) Clear()                    {}
func (noJournal) Close() error              { return nil }
