package widgets

import (
	"image"
	"image/color"
	"image/draw"
	"regexp"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
)

// Sentence says one thing to the user, such as what to do next: words that wrap
// to the width, behind a bar of their tone. A Note has no wash of its own.
type Sentence struct {
	widget.BaseWidget
	text string
	tone Tone

	wrapped float32 // the width the lines were last made for
	holds   bool    // it does not become lower
	held    int     // the most lines it had since
	least   int     // the lines that it has room for while it holds
}

// NewSentence returns a sentence.
func NewSentence(text string, tone Tone) *Sentence {
	s := &Sentence{text: text, tone: tone}
	s.ExtendBaseWidget(s)
	return s
}

// Set changes the words and the tone.
func (s *Sentence) Set(text string, tone Tone) {
	if s.text == text && s.tone == tone {
		return
	}
	s.text, s.tone = text, tone
	s.Refresh()
}

// Hold keeps the sentence from becoming lower than it was since, so that what stands
// below it keeps its position while the words change.
func (s *Sentence) Hold(on bool) {
	if s.holds != on {
		s.holds, s.held, s.least = on, 0, 0
		s.Refresh()
	}
}

// HoldLines is Hold, with room for some lines from the beginning.
func (s *Sentence) HoldLines(least int) {
	s.holds, s.held, s.least = true, least, least
	s.Refresh()
}

// Text returns the words.
func (s *Sentence) Text() string { return s.text }

// CreateRenderer makes the sentence; Fyne calls it.
func (s *Sentence) CreateRenderer() fyne.WidgetRenderer {
	r := &sentenceRenderer{s: s}
	r.picture = canvas.NewRaster(r.paint)
	s.wrapped = 240
	r.wrap()
	return r
}

// sentenceRenderer draws the words, the bar and the wash as one picture: a line of the toolkit
// takes most of a millisecond whenever it is new.
type sentenceRenderer struct {
	s       *Sentence
	lines   []string
	picture *canvas.Raster
	letters *lettering.Setter
}

// The space left of the words and above them, in DIP.
const (
	sentenceLeft = 11
	sentenceTop  = 4
)

func (r *sentenceRenderer) Destroy() {}

func (r *sentenceRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.picture} }

func (r *sentenceRenderer) lineHeight() float32 {
	return fyne.MeasureText("Hg", theme.TextSize(), fyne.TextStyle{}).Height + 1
}

func (r *sentenceRenderer) MinSize() fyne.Size {
	return fyne.NewSize(120, float32(max(len(r.lines), r.s.held))*r.lineHeight()+2*sentenceTop)
}

func (r *sentenceRenderer) Layout(size fyne.Size) {
	if size.Width > 0 && size.Width != r.s.wrapped {
		before := len(r.lines)
		r.s.wrapped, r.s.held = size.Width, r.s.least
		r.wrap()
		if len(r.lines) != before {
			canvas.Refresh(r.s) // the parent asks for the height anew
		}
	}
	if r.s.holds { // the room that it keeps is not washed
		size.Height = min(size.Height, float32(len(r.lines))*r.lineHeight()+2*sentenceTop)
	}
	r.picture.Resize(wholePixels(size, ScaleOf(r.s)))
}

func (r *sentenceRenderer) Refresh() {
	r.wrap()
	r.Layout(r.s.Size())
	canvas.Refresh(r.s)
}

// wrap cuts the words into lines of the width.
func (r *sentenceRenderer) wrap() {
	r.lines = Wrap(r.s.text, r.s.wrapped-sentenceLeft-6, theme.TextSize(), fyne.TextStyle{})
	if r.s.holds {
		r.s.held = max(r.s.held, len(r.lines))
	}
	r.picture.Refresh()
}

func (r *sentenceRenderer) paint(w, h int) image.Image {
	Crisp(r.picture)
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	ink, wash := r.s.tone.colours()
	bar := ink
	if r.s.tone == Note {
		bar = theme.ColorNamePrimary
	} else {
		draw.Draw(img, img.Rect, image.NewUniform(theme.Color(wash)), image.Point{}, draw.Src)
	}
	r.letters = r.letters.At(ScaleOf(r.s))
	edge := image.Rect(0, 0, int(3*r.letters.Scale()+0.5), h)
	draw.Draw(img, edge, image.NewUniform(theme.Color(bar)), image.Point{}, draw.Src)
	style, colour := lettering.Style{Size: theme.TextSize()}, color.NRGBAModel.Convert(theme.Color(ink)).(color.NRGBA)
	_, base := fyne.CurrentApp().Driver().RenderedTextSize("Hg", style.Size, fyne.TextStyle{}, nil)
	for i, l := range r.lines {
		l = r.letters.Fit(l, style, r.picture.Size().Width-sentenceLeft)
		r.letters.Write(img, l, style, sentenceLeft, sentenceTop+float32(i)*r.lineHeight()+base, colour)
	}
	return img
}

// ofFigure are the spaces within a figure: round its ± and before its unit.
var ofFigure = regexp.MustCompile(` ± ?|± |[0-9] k?m\b`)

// Wrap cuts a text at its spaces into lines no wider than width, in DIP. The spaces
// within a figure are none of them: who reads 400 m at the end of a line must not miss
// its ±. A word wider than a line stands on one of its own. There is always one line.
func Wrap(text string, width, size float32, style fyne.TextStyle) []string {
	var lines []string
	line := ""
	text = ofFigure.ReplaceAllStringFunc(lettering.Shown(text), func(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") })
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && fyne.MeasureText(longer, size, style).Width > width {
			lines, line = append(lines, line), word
			continue
		}
		line = longer
	}
	return append(lines, line)
}

// Tone returns what the sentence weighs.
func (s *Sentence) Tone() Tone { return s.tone }
