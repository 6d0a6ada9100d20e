package overlay

// FinestLine returns the width of the finest line that a lesson and its marks are drawn
// with, in device-independent pixels. Hatching is left aside: it is an area.
func FinestLine() float64 {
	table := styles()
	least := inkWide(table[markLine])
	for k := northGrid; k < kinds; k++ {
		if k != rayHatch && k != secondHatch {
			least = min(least, inkWide(table[k]))
		}
	}
	return least
}

// inkWide is the width of a line without its casing.
func inkWide(s style) (wide float64) {
	for _, b := range s.ink {
		wide = max(wide, 2*b.to)
	}
	return wide
}
