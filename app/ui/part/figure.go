package part

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// plusMinus parts a figure from its uncertainty in the texts of app/units.
const plusMinus = " ± "

// Figure is a row with a label at the left and a figure at the right, its
// uncertainty small beside it. Figures have one width and stand at the right,
// so a column of them can be read down.
type Figure struct {
	widget.BaseWidget
	label, text string
}

// NewFigure returns a row without a figure.
func NewFigure(label string) *Figure {
	f := &Figure{label: label}
	f.ExtendBaseWidget(f)
	return f
}

// SetText changes the figure; what follows " ± " is its uncertainty.
func (f *Figure) SetText(text string) {
	if f.text == text {
		return
	}
	f.text = text
	f.Refresh()
}

// Text returns the figure as it was set.
func (f *Figure) Text() string { return f.text }

// SetLabel changes the label.
func (f *Figure) SetLabel(label string) { f.label = label; f.Refresh() }

// SplitSigma parts a figure from its uncertainty: "057° ± 0.7" gives "057°" and
// "± 0.7". A figure without one gives an empty second part.
func SplitSigma(text string) (figure, sigma string) {
	figure, sigma, ok := strings.Cut(text, plusMinus)
	if ok {
		sigma = strings.TrimLeft(plusMinus, " ") + sigma
	}
	return figure, sigma
}

// CreateRenderer makes the row; Fyne calls it.
func (f *Figure) CreateRenderer() fyne.WidgetRenderer {
	label, figure, sigma := canvas.NewText("", nil), canvas.NewText("", nil), canvas.NewText("", nil)
	refresh := func() {
		fig, sig := SplitSigma(f.text)
		write(label, f.label, look.ColorQuiet, theme.SizeNameText)
		write(figure, fig, theme.ColorNameForeground, theme.SizeNameText)
		write(sigma, sig, look.ColorQuiet, look.SizeLabel)
	}
	refresh()
	r := &renderer{objects: []fyne.CanvasObject{label, figure, sigma}}
	r.layout = func(s fyne.Size) {
		size, base := baseline(figure)
		labelSize, labelBase := baseline(label)
		sigmaSize, sigmaBase := baseline(sigma)
		top := (s.Height - size.Height) / 2
		label.Move(fyne.NewPos(0, top+base-labelBase))
		label.Resize(labelSize)
		right := s.Width - sigmaSize.Width
		sigma.Move(fyne.NewPos(right, top+base-sigmaBase))
		sigma.Resize(sigmaSize)
		if sigmaSize.Width > 0 {
			right -= 4
		}
		figure.Move(fyne.NewPos(right-size.Width, top))
		figure.Resize(size)
	}
	r.min = func() fyne.Size {
		l, v, s := label.MinSize(), figure.MinSize(), sigma.MinSize()
		return fyne.NewSize(l.Width+v.Width+s.Width+theme.Padding()*3, v.Height+3)
	}
	r.refresh = func() { refresh(); r.layout(f.Size()) }
	return r
}
