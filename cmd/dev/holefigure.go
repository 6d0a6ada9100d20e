package main

import (
	"context"
	"fmt"
	"path/filepath"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/figures"
	"legwright/cmd/internal/windowtest"
	"legwright/cmd/internal/xdisplay"
)

// holeFigure pans over 192 megapixels by mouse, as the window tests do over a
// smaller sheet, and counts the blocks of the screen that are not, once the
// sheet has come to rest, what another decoder makes of the file.
func holeFigure(ctx context.Context, b *bench) ([]figures.Figure, error) {
	sheet, err := b.sheet(ctx, 192, benchsheet.JPEG)
	if err != nil {
		return nil, err
	}
	ref, err := windowtest.ReadReference(sheet.File)
	if err != nil {
		return nil, err
	}
	home := filepath.Join(b.dir, "holes")
	r, err := windowtest.Start(ctx, b.bin, home, windowtest.Options{Home: home}, sheet.File)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	p, err := r.State("a sharp sheet", func(p xdisplay.Probe) bool { return p.Sharp })
	if err != nil {
		return nil, err
	}
	r.Fitted = p.View
	found, err := r.Tour(ref)
	if err != nil {
		return nil, err
	}
	if found.Compared < 300 {
		return nil, fmt.Errorf("only %d blocks were compared, want 300 or more", found.Compared)
	}
	return []figures.Figure{figures.Alone("holes_192", float64(len(found.Holes)), "blocks", 0)}, nil
}
