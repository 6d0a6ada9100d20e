// Command checkrows measures on made sheets how the program judges them: what slips
// it lets through, what it says of sound sheets, and what its stated 95 % are worth.
// It prints a line of JSON for each figure, and on stderr where a figure was missed
// by paper and kind. The task runner checks the figures against their bounds.
//
//	checkrows [-seed N] [-share S] [-rows PREFIX] [-save FOLDER]
//
// With -save it keeps the wrong sheets that were checked or silent as files, for the
// tests to replay.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"

	"legwright/cmd/internal/checksheet"
)

// measured is one figure with the breakdown that a missed bound is shown with.
type measured struct {
	Name      string  `json:"name"`
	Value     float64 `json:"value"`
	Count     int     `json:"count"` // sheets, or whatever the figure is of
	Breakdown string  `json:"breakdown,omitempty"`
}

// run is one run of the rows.
type run struct {
	seed  uint64
	share float64 // of the usual number of sheets
	put   func(measured)
	save  string // folder for the wrong sheets that passed, "" to keep none
}

// n is the usual number of sheets by the run's share, at least one.
func (r run) n(usual int) int { return max(int(float64(usual)*r.share), 1) }

// keep saves a wrong sheet that passed.
func (r run) keep(s *checksheet.Sheet, slip checksheet.Slip, never checksheet.Outcome, evidence ...checksheet.Evidence) {
	if r.save == "" {
		return
	}
	what := fmt.Sprintf("%s, %d points: %s", s.Paper, len(s.Points), slip)
	if len(evidence) > 0 {
		what += "; " + string(evidence[0].Kind) + " agreed"
	}
	name := strings.ReplaceAll(string(slip.Kind), " ", "-")
	if err := s.Case(what, []checksheet.Outcome{never}, evidence...).Save(r.save, name); err != nil {
		fmt.Fprintln(os.Stderr, "checkrows:", err)
	}
}

// row is a group of figures that come of the same sheets.
type row struct {
	name string
	do   func(r run) error
}

func rows() []row {
	return []row{
		{"slips", slipRow},
		{"sound", soundRow},
		{"cover", coverRow},
		{"all", allRow},
		{"evidence", evidenceRow},
		{"names", nameRow},
		{"chosen", chosenRow},
		{"price", priceRow},
		{"files", fileRow},
		{"grid", gridRow},
		{"typed", typedRow},
		{"time", timeRow},
	}
}

func main() {
	seed := flag.Uint64("seed", 1, "seed of all sheets")
	share := flag.Float64("share", 1, "share of the usual number of sheets")
	prefix := flag.String("rows", "", "rows whose names begin so")
	save := flag.String("save", "", "folder for the wrong sheets that passed")
	flag.Parse()
	enc := json.NewEncoder(os.Stdout)
	r := run{*seed, *share, func(m measured) { _ = enc.Encode(m) }, *save}
	for _, w := range rows() {
		if !strings.HasPrefix(w.name, *prefix) {
			continue
		}
		if err := w.do(r); err != nil {
			fmt.Fprintf(os.Stderr, "checkrows: %s: %v\n", w.name, err)
			os.Exit(1)
		}
	}
}

// each does something for 0 … n−1 on both cores and returns the outcomes in order.
// Each has dice of its own from the run's seed, so that the order does not matter.
func each[T any](r run, row uint64, n int, do func(i int, dice *rand.Rand) T) []T {
	out := make([]T, n)
	var wg sync.WaitGroup
	for part := range 2 {
		wg.Go(func() {
			for i := part; i < n; i += 2 {
				out[i] = do(i, rand.New(rand.NewPCG(r.seed, row<<32+uint64(i))))
			}
		})
	}
	wg.Wait()
	return out
}
