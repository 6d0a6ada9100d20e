// Package figures measures how fast the program is. Where there is a peer,
// both run in turn within one measurement and the ratio counts: machines are
// noisy, ratios less so.
package figures

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"text/tabwriter"
)

// Figure is one measured figure with its bound. Peer and Ratio are nil where
// nothing is compared. The bound is an upper one: on Ratio where there is a
// peer, else on Value.
type Figure struct {
	Name  string   `json:"name"`
	Value float64  `json:"value"`
	Unit  string   `json:"unit"`
	Peer  *float64 `json:"peer"`
	Ratio *float64 `json:"ratio"`
	Bound float64  `json:"bound"`
	Holds bool     `json:"holds"`
}

// Alone returns a figure without a peer.
func Alone(name string, value float64, unit string, bound float64) Figure {
	return Figure{Name: name, Value: value, Unit: unit, Bound: bound, Holds: value <= bound}
}

// Against returns a figure that is held against a peer's.
func Against(name string, value, peer float64, unit string, bound float64) Figure {
	ratio := value / peer
	return Figure{
		Name: name, Value: value, Unit: unit,
		Peer: &peer, Ratio: &ratio, Bound: bound, Holds: ratio <= bound,
	}
}

// WriteJSON writes the figures as one array.
func WriteJSON(w io.Writer, list []Figure) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(list)
}

// WriteTable writes the figures for people.
func WriteTable(w io.Writer, list []Figure) error {
	t := tabwriter.NewWriter(w, 2, 0, 2, ' ', 0)
	fmt.Fprintln(t, "figure\tvalue\tpeer\tratio\tbound\t")
	for _, f := range list {
		peer, ratio, verdict := "–", "–", "holds"
		if f.Peer != nil {
			peer, ratio = fmt.Sprintf("%.3g %s", *f.Peer, f.Unit), fmt.Sprintf("%.3f", *f.Ratio)
		}
		if !f.Holds {
			verdict = "MISSED"
		}
		fmt.Fprintf(t, "%s\t%.3g %s\t%s\t%s\t≤ %g\t%s\n", f.Name, f.Value, f.Unit, peer, ratio, f.Bound, verdict)
	}
	return t.Flush()
}

// Median returns the middle of the values; of an even number, the upper of
// the two. It panics on an empty list.
func Median(values []float64) float64 { return Quantile(values, 0.5) }

// Quantile returns the value below which the share q of the values lies, by
// the nearest rank above.
func Quantile(values []float64, q float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	return sorted[min(int(q*float64(len(sorted))), len(sorted)-1)]
}
