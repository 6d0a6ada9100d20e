package geojson

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"legwright/app/geodesy"
)

// ringsKey is the property of an area with holes that says how its outline in a plan goes round
// them: "0:5 1:12 0:3" are five points of the border, twelve of the first hole, and three more of the
// border. GeoJSON has rings apart, a plan joins them by slits.
const ringsKey = "rings"

// runsOf writes the ring of each point of an outline.
func runsOf(on []int) string {
	var runs []string
	for from := 0; from < len(on); {
		to := from
		for to < len(on) && on[to] == on[from] {
			to++
		}
		runs = append(runs, fmt.Sprintf("%d:%d", on[from], to-from))
		from = to
	}
	return strings.Join(runs, " ")
}

// join makes one outline of the border of an area of ours and its holes. Where runs do not fit them,
// as after a change by another program, the holes stay filled: the whole area counts.
func (x *reading) join(s *Shape, runs string) error {
	if runs == "" || s.Holes == 0 {
		return nil
	}
	rings := [][]geodesy.LatLon{s.Points}
	for _, hole := range s.holes {
		ring, err := x.ring(hole)
		if err != nil {
			return err
		}
		rings = append(rings, ring)
	}
	var out []geodesy.LatLon
	for run := range strings.FieldsSeq(runs) {
		ring, count, _ := strings.Cut(run, ":")
		i, err := strconv.Atoi(ring)
		n, err2 := strconv.Atoi(count)
		if err != nil || err2 != nil || i < 0 || i >= len(rings) || n < 1 || n > len(rings[i]) {
			return nil
		}
		out, rings[i] = append(out, rings[i][:n]...), rings[i][n:]
	}
	if slices.ContainsFunc(rings, func(rest []geodesy.LatLon) bool { return len(rest) > 0 }) {
		return nil
	}
	s.Points, s.Holes = out, 0
	return nil
}

// ring reads the positions of a ring, without the first one again at the end.
func (x *reading) ring(text json.RawMessage) ([]geodesy.LatLon, error) {
	list, err := x.line(text)
	if n := len(list); n > 1 && list[0] == list[n-1] {
		list = list[:n-1]
	}
	return list, err
}
