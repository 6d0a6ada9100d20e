package pace

import "slices"

// Fitness is the row of Tranter's table: the minutes that a party takes to climb 300 m
// within 800 m. 0 means that the table is not used.
type Fitness int

// Fitnesses are the rows of the table, the fittest first.
func Fitnesses() []Fitness { return []Fitness{15, 20, 25, 30, 40, 50} }

// naismithHours are the columns of the table.
var naismithHours = [...]float64{2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24}

// tranterHours are the rows of the table as far as they are filled.
func tranterHours(f Fitness) []float64 {
	switch f {
	case 15:
		return []float64{1, 1.5, 2, 2.75, 3.5, 4.5, 5.5, 6.75, 7.75, 10, 12.5, 14.5, 17, 19.5, 22, 24}
	case 20:
		return []float64{1.25, 2.25, 3.25, 4.5, 5.5, 6.5, 7.75, 8.75, 10, 12.5, 15, 17.5, 20, 23}
	case 25:
		return []float64{1.5, 3, 4.25, 5.5, 7, 8.5, 10, 11.5, 13.25, 15, 17.5}
	case 30:
		return []float64{2, 3.5, 5, 6.75, 8.5, 10.5, 12.5, 14.5}
	case 40:
		return []float64{2.75, 4.25, 5.75, 7.5, 9.5, 11.5}
	case 50:
		return []float64{3.25, 4.75, 6.5, 8.5}
	}
	return nil
}

// Dropped returns the row so many lines below, as for a load of 20 kg, for night and for a
// head wind; ok is false where the table has no such line.
func (f Fitness) Dropped(lines int) (Fitness, bool) {
	all := Fitnesses()
	i := slices.Index(all, f)
	if i < 0 || i+lines >= len(all) {
		return 0, false
	}
	return all[i+lines], true
}

// Tranter turns the Naismith hours of a whole route into those of a party; ok is false
// where the route is too much to be attempted.
func Tranter(f Fitness, naismith float64) (hours float64, ok bool) {
	row := tranterHours(f)
	if row == nil || !(naismith >= 0) {
		return 0, false
	}
	if naismith <= naismithHours[0] {
		return naismith * row[0] / naismithHours[0], true
	}
	for i := 1; i < len(row); i++ {
		if from, to := naismithHours[i-1], naismithHours[i]; naismith <= to {
			return row[i-1] + (row[i]-row[i-1])*(naismith-from)/(to-from), true
		}
	}
	return 0, false
}
