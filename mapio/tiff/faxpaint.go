package tiff

// paint sets the black runs of a row.
func paint(row []byte, changes []int, width int) {
	clear(row)
	for i := 0; i < len(changes); i += 2 {
		end := width
		if i+1 < len(changes) {
			end = changes[i+1]
		}
		setBits(row, changes[i], min(end, width))
	}
}

// setBits sets the bits from one place up to another, the first bit of a byte
// being its most significant.
func setBits(row []byte, from, to int) {
	if from >= to {
		return
	}
	a, b := from/8, to/8
	head, tail := byte(0xff)>>(from%8), ^(byte(0xff) >> (to % 8))
	if a == b {
		row[a] |= head & tail
		return
	}
	row[a] |= head
	for i := a + 1; i < b; i++ {
		row[i] = 0xff
	}
	if tail != 0 {
		row[b] |= tail
	}
}
