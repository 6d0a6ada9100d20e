package xdisplay

import (
	"encoding/json"
	"fmt"
	"os"
	"time"
)

// Rect is a rectangle on the screen in physical pixels.
type Rect struct{ X, Y, W, H float64 }

// Centre returns the middle of the rectangle in whole pixels.
func (r Rect) Centre() (x, y int) { return int(r.X + r.W/2), int(r.Y + r.H/2) }

// Probe is what the bench tells an automated test about itself: the bench
// writes it to the file that LEGWRIGHT_PROBE names, after each change.
type Probe struct {
	Scale    float64         // physical pixels per unit of the window
	Sheet    Rect            // the sheet's area within the window
	View     [6]float64      // picture to sheet pixels: x = v0·col + v1·row + v2, y = v3·col + v4·row + v5
	Sharp    bool            // every visible tile is at its own level
	Controls map[string]Rect // named controls within the window
	Title    string
	Legs     int
	Points   int // control points
	Hint     string
	Message  string // the last sentence shown to the person
	Dirty    bool
	Unsafe   bool // a crash would lose unsaved work
	Asked    bool // the question about unsaved work is open
}

// At returns the window's pixel of a picture position.
func (p Probe) At(col, row float64) (x, y float64) {
	return p.Sheet.X + p.View[0]*col + p.View[1]*row + p.View[2],
		p.Sheet.Y + p.View[3]*col + p.View[4]*row + p.View[5]
}

// PlanState is the bench's plan after one change: the bench adds a line for each
// to a file beside the probe's.
type PlanState struct {
	At          time.Time
	Step        string
	Path        string // the plan's file
	Dirty, Drag bool   // a drag is under way, which is one act
	Plan        string // as in a plan file
}

// ReadPlans reads that file beside the probe's. It ignores a last line that was cut
// off.
func ReadPlans(probe string) ([]PlanState, error) {
	f, err := os.Open(probe + ".plans")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var list []PlanState
	for dec := json.NewDecoder(f); ; {
		var s PlanState
		if err := dec.Decode(&s); err != nil {
			return list, nil
		}
		list = append(list, s)
	}
}

// ReadProbe reads the probe's file.
func ReadProbe(file string) (Probe, error) {
	var p Probe
	raw, err := os.ReadFile(file)
	if err != nil {
		return p, err
	}
	if err := json.Unmarshal(raw, &p); err != nil {
		return p, fmt.Errorf("probe %s: %w", file, err)
	}
	return p, nil
}
