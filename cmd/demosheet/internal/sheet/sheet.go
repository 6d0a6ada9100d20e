// Package sheet composes the demo sheet: it takes the invented ground, gives every
// thing on it a line, a tone or a symbol, letters it, and puts the frame and the
// margin round it; then it makes the scan. The look is our own. Shapes come from
// package ground, drawing from package ink, positions from assets/demo.
package sheet

import (
	"fmt"
	"image"

	"legwright/assets/demo"
	"legwright/assets/look"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// maker holds what all the parts of the drawing share.
type maker struct {
	g      *ground.Ground
	c      *ink.Canvas
	truth  demo.Truth
	gentle *ground.Field // heights without their fine detail
	faces  faces
	ways   []way
	texts  []lettering
}

// faces are the typefaces of the sheet: a serif for names, a plain face for figures.
type faces struct {
	roman, italic, bold     *ink.Face
	figure, figureBold, fig *ink.Face
}

func loadFaces() (faces, error) {
	var f faces
	var err error
	for style, face := range map[string]**ink.Face{"Regular": &f.roman, "Italic": &f.italic, "Bold": &f.bold} {
		if *face, err = ink.Lettering(style); err != nil {
			return f, err
		}
	}
	if f.figure, err = ink.NewFace(look.Regular()); err != nil {
		return f, err
	}
	if f.figureBold, err = ink.NewFace(look.Bold()); err != nil {
		return f, err
	}
	f.fig, err = ink.NewFace(look.Italic())
	return f, err
}

// Draw draws the whole sheet.
func Draw(g *ground.Ground) (*image.RGBA, error) {
	m, err := compose(g)
	if err != nil {
		return nil, err
	}
	return m.c.Pic, nil
}

// compose draws the parts of the sheet one over the other, tones first, texts and frame last.
func compose(g *ground.Ground) (*maker, error) {
	f, err := loadFaces()
	if err != nil {
		return nil, fmt.Errorf("sheet: %w", err)
	}
	truth := demo.SheetTruth()
	m := &maker{g: g, c: ink.NewCanvas(truth.Width, truth.Height, paper), truth: truth, faces: f}
	m.gentle = m.smoothed(40)
	m.ways = m.planWays()
	for _, part := range []func(){
		m.tones, m.waterlines, m.lakeTones, m.plantation, m.c.Keep, m.collectNames,
		m.bog, m.contours, m.crags, m.streams, m.coast, m.walls, m.drawWays, m.trees, m.symbols,
		m.halos, m.grid, m.letter, m.frame, m.margin,
	} {
		part()
	}
	return m, nil
}

// px returns where a point of the ground lies on the sheet.
func (m *maker) px(p ground.Point) ink.Pt {
	x, y := m.truth.Pixel(demo.West+p.X, demo.South+p.Y)
	return ink.Pt{X: x, Y: y}
}

// at returns where grid coordinates in metres lie on the ground.
func at(e, n float64) ground.Point { return ground.Point{X: e - demo.West, Y: n - demo.South} }

// ground returns the point of the ground at a pixel.
func (m *maker) ground(p ink.Pt) ground.Point {
	e, n := m.truth.Grid(p.X, p.Y)
	return at(e, n)
}

func (m *maker) line(l ground.Line) []ink.Pt {
	out := make([]ink.Pt, len(l))
	for i, p := range l {
		out[i] = m.px(p)
	}
	return out
}
