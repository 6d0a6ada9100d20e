package card

import (
	"fmt"
	"strconv"
	"strings"

	"legwright/app/plan"
)

// Figures is a table of words: a head, and rows as long.
type Figures struct {
	Title string
	Head  []string
	Rows  [][]string
}

// TimingTable says how many minutes 100 m to 1,000 m take at 2, 3, 4 and 5 km/h: length divided
// by speed. Climb comes on top, 10 minutes to 100 m (a metric form of Naismith's rule).
func TimingTable() Figures {
	t := Figures{Title: "Left: minutes on the flat, + 1 min per 10 m climbed", Head: []string{"m"}}
	speeds := []float64{2, 3, 4, 5}
	for _, kmh := range speeds {
		t.Head = append(t.Head, fmt.Sprintf("%g km/h", kmh))
	}
	for m := 100; m <= 1000; m += 100 {
		row := []string{strconv.Itoa(m)}
		for _, kmh := range speeds {
			row = append(row, strings.TrimSuffix(fmt.Sprintf("%.1f", float64(m)/1000/kmh*60), ".0"))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// PaceTable says how many double paces 50 m to 500 m take the party on the flat, uphill and
// downhill.
func PaceTable(party plan.Party) Figures {
	c := party.Counts()
	t := Figures{Title: "Right: double paces", Head: []string{"m", "flat", "up", "down"}}
	for m := 50; m <= 500; m += 50 {
		row := []string{strconv.Itoa(m)}
		for _, per := range []float64{c.Flat, c.Up, c.Down} {
			row = append(row, fmt.Sprintf("%.0f", float64(m)/100*per))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
