package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
)

// figure is one figure with its bounds: of the ratio if there is a peer, otherwise
// of the value; nil is not a bound. If the figure could not be measured, Value is nil
// and Why gives the reason.
type figure struct {
	Name   string   `json:"name"`
	Value  *float64 `json:"value"`
	Unit   string   `json:"unit"`
	Peer   *float64 `json:"peer"`
	Ratio  *float64 `json:"ratio"`
	Min    *float64 `json:"min"`
	Max    *float64 `json:"max"`
	Missed bool     `json:"missed"`
	Why    string   `json:"why,omitempty"`

	mayLack bool // a run without a value for it does not fail
}

func atMost(name, unit string, bound float64) figure {
	return figure{Name: name, Unit: unit, Max: &bound}
}

func atLeast(name, unit string, bound float64) figure {
	return figure{Name: name, Unit: unit, Min: &bound}
}

// measured sets the value and, if there is a second one, the peer's, and compares
// them with the bounds. Values that are not finite count as not measured, for the
// reason given.
func (f figure) measured(got []float64, why error) figure {
	counts := math.NaN()
	switch len(got) {
	case 1:
		counts = got[0]
	case 2:
		counts = got[0] / got[1]
	}
	if math.IsNaN(counts) || math.IsInf(counts, 0) {
		f.Why = fmt.Sprintf("measured %v", got)
		if why != nil {
			f.Why = strings.ReplaceAll(why.Error(), "\n", "; ")
		}
		return f
	}
	f.Value = &got[0]
	if len(got) == 2 {
		f.Peer, f.Ratio = &got[1], &counts
	}
	f.Missed = f.Min != nil && counts < *f.Min || f.Max != nil && counts > *f.Max
	return f
}

// writeFigures writes the figures as a table for people, or as a JSON array.
func writeFigures(w io.Writer, list []figure, asJSON bool) error {
	if asJSON {
		enc := json.NewEncoder(w)
		enc.SetIndent("", "  ")
		return enc.Encode(list)
	}
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	fmt.Fprintln(t, "figure\tvalue\tpeer\tratio\tbound\t")
	for _, f := range list {
		verdict, unit := "holds", strings.ReplaceAll(f.Unit, "%", "%%")
		if f.Missed {
			verdict = "missed"
		}
		if f.Value == nil {
			verdict = "not measured: " + f.Why
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s%s\t%s\n", f.Name, shown("%.3g "+unit, f.Value), shown("%.3g "+unit, f.Peer),
			shown("%.3f", f.Ratio), shown("≥ %g ", f.Min), shown("≤ %g", f.Max), verdict)
	}
	return t.Flush()
}

// shown formats a number, or returns "" for nil.
func shown(format string, v *float64) string {
	if v == nil {
		return ""
	}
	return fmt.Sprintf(format, *v)
}

// median is the middle of the values; of an even number, the upper of the two.
func median(values []float64) float64 { return quantile(values, 0.5) }

// quantile is the value below which the share q of the values lies, by the
// nearest rank above; NaN of no values.
func quantile(values []float64, q float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	return sorted[min(int(q*float64(len(sorted))), len(sorted)-1)]
}
