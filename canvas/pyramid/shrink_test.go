package pyramid

import "testing"

// BenchmarkShrink makes half a row pair of 8,192 pixels.
func BenchmarkShrink(b *testing.B) {
	p, q, dst := make([]uint8, 4*8192), make([]uint8, 4*8192), make([]uint8, 4*4096)
	for i := range p {
		p[i], q[i] = uint8(i*7), uint8(i*13)
	}
	b.Run("grey", func(b *testing.B) {
		b.SetBytes(2 * 8192)
		for b.Loop() {
			shrinkRow(dst[:4096], p, q, 8192)
		}
	})
	b.Run("rgba", func(b *testing.B) {
		b.SetBytes(2 * 4 * 8192)
		for b.Loop() {
			shrinkRowRGBA(dst, p, q, 8192)
		}
	})
	b.Run("mean", func(b *testing.B) {
		b.SetBytes(2 * 8192)
		for b.Loop() {
			boxRow(dst[:4096], p, q, 8192)
		}
	})
}
