package pyramid

import (
	"image"
	"testing"
)

// TestTilesKeepNoPlanes holds that whole tiles made from the store leave no
// planes in memory but a few buffers, and that a turned region, which reads
// the same plane block by block, keeps them.
func TestTilesKeepNoPlanes(t *testing.T) {
	t.Parallel()
	s, key := emptyStore(t), [32]byte{7}
	img := smoothYCC(3*TileSize, 2*TileSize)
	stored(t, s, key, img)
	p, err := s.Open(key, Options{OnFault: noFault(t)})
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	var keys []Key
	for i := range 6 {
		keys = append(keys, Key{0, i % 3, i / 3})
	}
	came := make(chan struct{}, len(keys))
	p.Request(keys, func() { came <- struct{}{} })
	until(t, "the tiles", func() bool { return p.Stats().Tiles == len(keys) })
	if cachedRawTile := len(p.rawCache.rawTiles); cachedRawTile != 0 {
		t.Errorf("%d planes are kept of tiles that are in memory, want none", cachedRawTile)
	}
	if got, most := p.Stats().PlaneBytes, int64(spareRawTiles*3*TileSize*TileSize); got > most {
		t.Errorf("planes take %d bytes, want %d at most", got, most)
	}
	dst := image.NewRGBA(image.Rect(0, 0, 300, 300))
	if err := p.Region(dst, turned(0.3, 1, 900, 500), Bilinear); err != nil {
		t.Fatal(err)
	}
	if len(p.rawCache.rawTiles) == 0 {
		t.Error("no plane is kept of a turned region, want those under it")
	}
}
