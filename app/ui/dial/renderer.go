package dial

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"legwright/app/ui/dial/housing"
	"legwright/app/ui/look"
	"legwright/app/ui/part"
)

// The panel's measures in DIP.
const (
	leastWidth = 300
	faceLeast  = 190 // on low windows
	faceMost   = 520
	edge       = 12 // left and right of everything
	topGap     = 8
	cellLabel  = 14 // depth of a cell's label above its figure
	cellHigh   = 36
	setHigh    = 50
)

// renderer lays the panel out from top to bottom: face, figure to set, cells,
// rule, flags. Heights do not depend on the figures, so that nothing below the
// dial jumps while a bearing is dragged.
type renderer struct {
	d      *Dial
	face   *canvas.Raster
	drawn  housing.State
	ink    look.DialInk
	circle *canvas.Text

	setLabel, set, unit, point, dist, distSigma *canvas.Text

	cells []*cellTexts
	hair  *part.Hair
	rule  []*canvas.Text
	hint  []*canvas.Text
}

type cellTexts struct{ label, figure, sigma *canvas.Text }

func (c *cellTexts) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{c.label, c.figure, c.sigma}
}

func newText() *canvas.Text { return canvas.NewText("", nil) }

func newRenderer(d *Dial) *renderer {
	r := &renderer{
		d: d, circle: newText(), setLabel: newText(), set: newText(), unit: newText(), point: newText(),
		dist: newText(), distSigma: newText(), hair: part.NewHair(),
		rule: []*canvas.Text{newText(), newText()}, hint: []*canvas.Text{newText(), newText(), newText()},
	}
	r.set.TextStyle.Bold = true
	r.point.TextStyle.Bold = true
	for range 8 {
		r.cells = append(r.cells, &cellTexts{newText(), newText(), newText()})
	}
	return r
}

func (r *renderer) Destroy() {}

func (r *renderer) Objects() []fyne.CanvasObject {
	objects := []fyne.CanvasObject{
		r.face, r.circle, r.d.truth, r.setLabel, r.set, r.unit, r.point, r.dist, r.distSigma, r.hair, r.d.flags,
	}
	for _, c := range r.cells {
		objects = append(objects, c.objects()...)
	}
	for _, t := range append(r.rule, r.hint...) {
		objects = append(objects, t)
	}
	return objects
}

// below is the height of everything under the face.
func (r *renderer) below() float32 {
	rows := (len(r.d.figures.cells(r.d.showTrue)) + 1) / 2
	flags := max(r.d.flags.MinSize().Height, 2*chipHeight()+4) // two lines always, so that the face keeps its size
	return topGap + 14 + setHigh + 6 + float32(rows)*cellHigh + 18 + flags + topGap
}

func chipHeight() float32 {
	return fyne.MeasureText("Hg", theme.Size(look.SizeLabel), fyne.TextStyle{}).Height + 5
}

func (r *renderer) MinSize() fyne.Size {
	return fyne.NewSize(leastWidth, topGap+faceLeast+r.below())
}

func (r *renderer) Layout(size fyne.Size) {
	side := min(size.Width-2*edge, max(faceLeast, size.Height-topGap-r.below()), faceMost)
	r.face.Move(fyne.NewPos((size.Width-side)/2, topGap))
	r.face.Resize(fyne.NewSquareSize(side))
	r.circle.Move(fyne.NewPos(edge, topGap))
	r.circle.Resize(r.circle.MinSize())
	tool := r.d.truth.MinSize()
	r.d.truth.Move(fyne.NewPos(size.Width-tool.Width-4, 4))
	r.d.truth.Resize(tool)
	y := topGap + side + topGap
	r.layoutHint(y + 12)
	y = r.layoutSet(y, size.Width)
	y = r.layoutCells(y, size.Width)
	r.rule[0].Move(fyne.NewPos(edge, y))
	r.rule[0].Resize(r.rule[0].MinSize())
	y += 18
	r.d.flags.Move(fyne.NewPos(edge, y))
	r.d.flags.Resize(fyne.NewSize(size.Width-2*edge, max(r.d.flags.MinSize().Height, chipHeight())))
}

// layoutSet places the figure to set, and the point and the distance beside it.
func (r *renderer) layoutSet(y, width float32) float32 {
	place(r.setLabel, edge, y)
	y += 14
	place(r.set, edge-1, y-4)
	set, base := measure(r.set)
	baseY := y - 4 + base
	_, unitBase := measure(r.unit)
	place(r.unit, edge+set.Width+4, baseY-unitBase)
	dist, distBase := measure(r.dist)
	point, _ := measure(r.point)
	right := width - edge
	sigma, sigmaBase := measure(r.distSigma)
	x := right
	if r.distSigma.Text != "" {
		x -= sigma.Width
		place(r.distSigma, x, baseY-sigmaBase)
		x -= 4
	}
	place(r.dist, x-dist.Width, baseY-distBase)
	place(r.point, right-point.Width, baseY-distBase-point.Height)
	return y + setHigh
}

func (r *renderer) layoutCells(y, width float32) float32 {
	r.hair.Move(fyne.NewPos(edge, y))
	r.hair.Resize(fyne.NewSize(width-2*edge, 1))
	y += 6
	column := (width - 2*edge) / 2
	n := len(r.d.figures.cells(r.d.showTrue))
	for i, c := range r.cells[:n] {
		x := edge + column*float32(i%2)
		top := y + cellHigh*float32(i/2)
		place(c.label, x, top)
		size, base := measure(c.figure)
		place(c.figure, x, top+cellLabel-1)
		_, sigmaBase := measure(c.sigma)
		place(c.sigma, x+size.Width+5, top+cellLabel-1+base-sigmaBase)
	}
	return y + cellHigh*float32((n+1)/2)
}

func (r *renderer) layoutHint(y float32) {
	for i, t := range r.hint {
		place(t, edge, y+float32(i)*18)
	}
}

func place(t *canvas.Text, x, y float32) {
	t.Move(fyne.NewPos(x, y))
	t.Resize(t.MinSize())
}

func measure(t *canvas.Text) (fyne.Size, float32) {
	return fyne.CurrentApp().Driver().RenderedTextSize(t.Text, t.TextSize, t.TextStyle, t.FontSource)
}

func (r *renderer) Refresh() {
	before := r.MinSize()
	r.write()
	r.Layout(r.d.Size())
	if r.MinSize() != before {
		canvas.Refresh(r.d) // the parent asks for the height anew
	}
}

// write brings every text and the face up to the figures; what did not change
// is not drawn again.
func (r *renderer) write() {
	f := r.d.figures
	if state, ink := f.state(), look.Current().Dial; state != r.drawn || ink != r.ink {
		r.drawn, r.ink = state, ink
		r.face.Refresh()
	}
	put(r.circle, circleName(f.Circle), look.ColorQuiet, look.SizeLabel)
	put(r.setLabel, f.SetLabel, look.ColorQuiet, look.SizeLabel)
	set, unit, _ := strings.Cut(f.Set, " ") // "0975 mil": the figure is large, its unit is not
	put(r.set, set, theme.ColorNameForeground, look.SizeSet)
	put(r.unit, unit, look.ColorQuiet, look.SizeFigure)
	put(r.point, f.Point, theme.ColorNameForeground, look.SizeFigure)
	dist, sigma := part.SplitSigma(f.Distance)
	put(r.dist, dist, theme.ColorNameForeground, look.SizeFigure)
	put(r.distSigma, sigma, look.ColorQuiet, look.SizeLabel)
	r.writeCells(f)
	put(r.rule[0], f.rule(), look.ColorQuiet, look.SizeLabel)
	r.writeHint(f.Empty)
	chips(r.d.flags, f.Flags)
	r.hair.Refresh()
}

func (r *renderer) writeCells(f Figures) {
	list := f.cells(r.d.showTrue)
	for i, c := range r.cells {
		if i >= len(list) || f.Empty {
			put(c.label, "", look.ColorQuiet, look.SizeLabel)
			put(c.figure, "", look.ColorQuiet, look.SizeFigure)
			put(c.sigma, "", look.ColorQuiet, look.SizeLabel)
			continue
		}
		figure, sigma := part.SplitSigma(list[i].text)
		if figure == "" {
			figure = "–"
		}
		put(c.label, list[i].label, look.ColorQuiet, look.SizeLabel)
		put(c.figure, figure, theme.ColorNameForeground, look.SizeFigure)
		put(c.sigma, sigma, look.ColorQuiet, look.SizeLabel)
	}
}

func (r *renderer) writeHint(empty bool) {
	var lines []string
	if empty {
		width := max(leastWidth, r.d.Size().Width) - 2*edge
		lines = part.Wrap(r.d.hint, width, theme.TextSize(), fyne.TextStyle{})
	}
	for i, t := range r.hint {
		text := ""
		if i < len(lines) {
			text = lines[i]
		}
		put(t, text, look.ColorQuiet, theme.SizeNameText)
	}
}

func put(t *canvas.Text, text string, c fyne.ThemeColorName, s fyne.ThemeSizeName) {
	ink, size := theme.Color(c), theme.Size(s)
	if t.Text == text && t.Color == ink && t.TextSize == size {
		return
	}
	t.Text, t.Color, t.TextSize = text, ink, size
	t.Refresh()
}
