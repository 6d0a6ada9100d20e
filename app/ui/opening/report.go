package opening

import "legwright/mapio/georef"

// Reason says what a Report is about.
type Reason int

// The reasons of reports.
const (
	Opened      Reason = iota // the picture is there as a whole
	Cancelled                 // a person cancelled; Path was not opened
	NotOpened                 // a person decided not to open Path, or not to use it
	Refused                   // Path cannot be opened, for Err; the plan is as before
	Removed                   // the picture turned out damaged, for Err, and the plan was changed since it was shown: only the picture goes
	CopyShown                 // the file cannot be read now, for Err; what is shown is a copy from the store
	Withheld                  // the picture lies outside the plan's folder, and the person did not agree to open it
	Stopped                   // further dropped files were not opened, because something about Path must be answered first
	StoreFault                // the store failed, for Err; the picture stays
	FileChanged               // the file was changed since it was opened; see Desk.CheckFile
)

// Report is what came of something.
type Report struct {
	Reason  Reason
	Path    string
	Use     Use
	Err     error
	Picture *Picture // Opened
	File    File     // Opened
	First   bool     // Opened: for the first time as this sheet of the plan
	Bare    bool     // Cancelled: the plan in hand stays open without its picture
	Back    bool     // Cancelled, Refused: the plan that a new one had taken the place of is open again
	Rest    Batch    // of files that were dropped together
}

// File is what a picture's file says besides the picture.
type File struct {
	georef.Found          // where it says that its picture lies
	Notes        []string // sentences for people about faults of the file
}

// sighting is a picture as a sheet of the plan.
type sighting struct {
	sheet, sha string
	page       int
	dpi        float64
}

// past is what was reported already.
type past struct {
	seen   map[sighting]bool // since the plan was opened
	faults map[string]bool
	batch  Batch
}

// first reports whether a picture is opened for the first time as this sheet since
// the plan was opened, and notes it: a georeference that was undone must not be used
// again each time that the sheet is shown.
func (p *past) first(sheet string, of *Picture) bool {
	key := sighting{sheet, of.SHA256, of.Page.Number, of.Page.DPI}
	if p.seen[key] {
		return false
	}
	if p.seen == nil {
		p.seen = map[sighting]bool{}
	}
	p.seen[key] = true
	return true
}

// firstFault reports whether a fault is met for the first time, and notes it.
func (p *past) firstFault(err error) bool {
	if p.faults[err.Error()] {
		return false
	}
	if p.faults == nil {
		p.faults = map[string]bool{}
	}
	p.faults[err.Error()] = true
	return true
}
