package ledger

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Heights of a row and of the heading, and the space inside a cell.
const (
	rowHeight  = float32(38)
	headHeight = float32(22)
	cellPad    = float32(6)
	minWidth   = float32(640)
)

// line draws one row. The list makes a few and uses them again and again.
type line struct {
	widget.BaseWidget
	row      Row
	selected bool
	cursor   Column // the chosen cell where selected
	onTap    func(c Column)
}

func newLine() *line {
	l := &line{}
	l.ExtendBaseWidget(l)
	return l
}

// Tapped chooses the cell under the pointer.
func (l *line) Tapped(e *fyne.PointEvent) {
	if l.onTap != nil {
		l.onTap(columnAt(e.Position.X, l.Size().Width))
	}
}

func (l *line) show(r Row, selected bool, cursor Column) {
	if l.row == r && l.selected == selected && l.cursor == cursor {
		return
	}
	l.row, l.selected, l.cursor = r, selected, cursor
	l.Refresh()
}

// CreateRenderer is Fyne's.
func (l *line) CreateRenderer() fyne.WidgetRenderer {
	r := &lineRenderer{line: l, ground: canvas.NewRectangle(color.Transparent), cell: canvas.NewRectangle(color.Transparent)}
	r.objects = []fyne.CanvasObject{r.ground, r.cell}
	for c := range columns {
		r.text[c], r.under[c] = canvas.NewText("", color.Black), canvas.NewText("", color.Black)
		r.objects = append(r.objects, r.text[c], r.under[c])
	}
	r.fill()
	return r
}

type lineRenderer struct {
	line         *line
	ground, cell *canvas.Rectangle
	text, under  [columns]*canvas.Text
	objects      []fyne.CanvasObject
	fitted       float32 // the width the texts were cut for
}

func (r *lineRenderer) Destroy()                     {}
func (r *lineRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *lineRenderer) MinSize() fyne.Size           { return fyne.NewSize(minWidth, rowHeight) }

// Refresh fills the texts again and lays them out.
func (r *lineRenderer) Refresh() {
	r.fill()
	r.Layout(r.line.Size())
	for _, o := range r.objects {
		o.Refresh()
	}
}

// fill takes text and colours from the row.
func (r *lineRenderer) fill() {
	p := look.Current()
	r.ground.FillColor, r.cell.FillColor = color.Transparent, color.Transparent
	if r.line.selected {
		r.ground.FillColor, r.cell.FillColor = p.Hover, p.Select
	}
	for c := range columns {
		text, under := r.line.row.cell(c)
		r.text[c].Text, r.under[c].Text = text, under
		r.text[c].TextSize, r.under[c].TextSize = theme.Size(theme.SizeNameText), theme.Size(look.SizeLabel)
		r.text[c].Color, r.under[c].Color = p.Ink, p.Quiet
		if c == Number && r.line.row.Flagged {
			r.text[c].Color = p.Caution
		}
		r.text[c].TextStyle.Bold = c == Number || c == Magnetic
	}
	r.fitted = -1
}

// Layout cuts each text to its column and puts it in place.
func (r *lineRenderer) Layout(size fyne.Size) {
	at, width := spans(size.Width)
	r.ground.Resize(size)
	r.cell.Move(fyne.NewPos(at[r.line.cursor], 1))
	r.cell.Resize(fyne.NewSize(width[r.line.cursor], size.Height-2))
	for c, s := range specs() {
		if r.fitted != size.Width {
			text, under := r.line.row.cell(Column(c))
			r.text[c].Text = fit(text, r.text[c], width[c]-2*cellPad)
			r.under[c].Text = fit(under, r.under[c], width[c]-2*cellPad)
		}
		place(r.text[c], r.under[c], at[c], width[c], size.Height, s.figure)
	}
	r.fitted = size.Width
}

// place sets one or two lines into a cell, figures to the right.
func place(text, under *canvas.Text, x, w, h float32, right bool) {
	box := text.MinSize()
	left := x + cellPad
	if right {
		left = x + w - cellPad - box.Width
	}
	top := (h - box.Height) / 2
	if under.Text != "" {
		low := under.MinSize()
		top = (h - box.Height - low.Height + 2) / 2
		under.Move(fyne.NewPos(x+cellPad, top+box.Height-2))
	}
	text.Move(fyne.NewPos(left, top))
}

// fit cuts a text so that it is no wider than width, and ends it with an
// ellipsis where it was cut.
func fit(text string, like *canvas.Text, width float32) string {
	measure := func(s string) float32 { return fyne.MeasureText(s, like.TextSize, like.TextStyle).Width }
	if text == "" || measure(text) <= width {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		if measure(string(runes[:mid])+"…") <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(runes[:low]) + "…"
}
