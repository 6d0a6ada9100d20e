package pyramid

import (
	"context"
	"errors"
)

// ErrNoFlow is returned by Flow where the picture must come by Fill.
var ErrNoFlow = errors.New("the picture cannot be shown while it is being decoded")

// Rows tells of a picture that is still being decoded, from top to bottom.
type Rows interface {
	// Await returns when the uppermost rows are there, and for all rows when
	// the picture is known to be sound. It gives an error when they will not
	// come or the context ends.
	Await(ctx context.Context, rows int) error
	// Release says that the uppermost rows are not needed any more.
	Release(rows int)
}

// flow is such a picture in a pass. Nil is a picture that is there.
type flow struct {
	rows   Rows
	ctx    context.Context
	height int
}

// await waits for a row of tiles.
func (f *flow) await(y int) error {
	if f == nil {
		return nil
	}
	return f.rows.Await(f.ctx, min((y+1)*TileSize, f.height))
}

// release discards a row of tiles.
func (f *flow) release(y int) {
	if f != nil {
		f.rows.Release(min((y+1)*TileSize, f.height))
	}
}

// drain discards all rows as they come.
func (f *flow) drain() error {
	for y := range span(f.height) {
		if err := f.await(y); err != nil {
			return err
		}
		f.release(y)
	}
	return nil
}

// Flow takes the picture as Fill does, but while it is still being decoded:
// each row goes to the store and leaves the memory, so that the whole is never in
// memory. Until the last has come the preview is shown. It returns when every
// level is in the store; with an error the pyramid is as it was, and the
// picture must come by Fill. ErrNoFlow says that there is no store to use or no
// preview. A picture that the store has already is shown from it at once; then
// the rows are only discarded, and an error says nothing but what is wrong with
// them.
func (p *Pyramid) Flow(src Source, rows Rows) error {
	if !p.beginFlow(src) {
		return ErrNoFlow
	}
	defer p.wg.Done()
	defer p.endFlow()
	if !p.Ready(len(p.sizes) - 1) {
		return ErrNoFlow
	}
	from := &flow{rows, p.ctx, p.size.Y}
	if p.adoptStored(p.opt.Store, p.opt.Key) {
		p.finish()
		return from.drain()
	}
	if err := p.storeAnew(p.opt.Store, newLayer(src), from); err != nil {
		return err
	}
	p.finish()
	freeMemory()
	return nil
}

// endFlow leaves the picture to Fill unless it has been taken, even where the
// taking broke down.
func (p *Pyramid) endFlow() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.stage == building {
		p.stage = pending
	}
}

// beginFlow takes the place of Fill where a picture may come by Flow. What it
// adds to wg is the caller's to end.
func (p *Pyramid) beginFlow(src Source) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shut || p.stage != pending || p.opt.Store == nil || p.opt.Key == [32]byte{} || src.Bounds().Size() != p.size {
		return false
	}
	p.stage = building
	p.wg.Add(1)
	return true
}
