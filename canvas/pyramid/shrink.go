package pyramid

func shrinkRow(dst, a, b []uint8, w int) { boxRow(dst, a, b, w) }

func shrinkRowRGBA(dst, a, b []uint8, w int) { boxRowRGBA(dst, a, b, w) }
