package pyramid

import (
	"fmt"
	"image"
	"testing"
)

// BenchmarkMoving wanders over a stored picture, one new tile a step and the
// oldest given back: what is allocated must not grow with the picture.
func BenchmarkMoving(b *testing.B) {
	for _, side := range []int{2048, 12288} {
		b.Run(fmt.Sprint(side), func(b *testing.B) {
			s := emptyStore(b)
			m := image.NewYCbCr(image.Rect(0, 0, side, side), image.YCbCrSubsampleRatio420)
			p := settled(b, New(m, Options{Store: s, Key: [32]byte{1}, Budget: 24 << 20, OnFault: noFault(b)}))
			came := make(chan struct{}, 1)
			done := func() {
				select {
				case came <- struct{}{}:
				default:
				}
			}
			var held [12]*image.RGBA
			keys := make([]Key, 1)
			step := 0
			b.ReportAllocs()
			for b.Loop() {
				keys[0] = Key{0, step % (side / TileSize), step * 7 / 3 % (side / TileSize)}
				p.Near(0, image.Rect(0, 0, 1400, 900).Add(image.Pt(keys[0].X*TileSize, keys[0].Y*TileSize)))
				p.Request(keys, done)
				var tile *image.RGBA
				for tile == nil {
					if m, ok := p.Tile(keys[0]); ok {
						tile = m
						break
					}
					<-came
				}
				if old := held[step%len(held)]; old != nil {
					p.Release(old)
				}
				held[step%len(held)] = tile
				step++
			}
			if s := p.Stats(); s.TileBytes+s.PlaneBytes > s.Budget {
				b.Errorf("%d bytes of tiles, %d of planes, budget %d", s.TileBytes, s.PlaneBytes, s.Budget)
			}
		})
	}
}
