package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"legwright/app/calib"
)

// columns writes the figures and fits at the left and the residuals at the
// right, down to a height of the page.
func (p *page) columns(bottom float64) {
	top := p.y
	p.figures(margin, columnW)
	p.trials(margin, columnW, bottom)
	p.y = top
	p.table(margin+columnW+gutter, columnW, bottom)
	p.y = bottom
}

// noBreak is the space that no line is broken at.
const noBreak = '\u00a0'

// grouped writes a whole number with its thousands apart.
func grouped(v float64) string {
	digits := strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	var b strings.Builder
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteRune(noBreak)
		}
		b.WriteRune(r)
	}
	return b.String()
}

func (p *page) figures(x, w float64) {
	c := p.s.Calibration
	p.heading(x, w, "The fit")
	if n := len(c.Points()); n > 0 {
		p.lineFigure(x, w, "Fit", "%s of %d points, %d to spare", c.Kind(), n, c.DOF()/2)
	} else {
		p.lineFigure(x, w, "Fit", "%s, by the file", c.Kind())
	}
	p.lineFigure(x, w, "A pixel", "%.4g m", c.MetresPerPixel())
	if p.s.DPI > 0 {
		p.lineFigure(x, w, "Scale", "1 : %s at %.0f px an inch", grouped(c.MetresPerPixel()*p.s.DPI/0.0254), p.s.DPI)
	}
	p.lineFigure(x, w, "Grid north", "%s° clockwise from picture up", minus(fmt.Sprintf("%.3f", c.Rotation().Deg())))
	if c.DOF() > 0 {
		p.lineFigure(x, w, "Left over", "%s m, %.2f px (root mean square)", metres(c.RMSM()), c.RMSPx())
	}
	if f := c.VarianceFactor(); f > 1 {
		p.lineFigure(x, w, "Error bars", "widened %.1f times", math.Sqrt(f))
	}
	f := frameOf(p.s)
	p.lineFigure(x, w, "In the middle", "± %s m (95 %%)", metres(c.HalfWidth95M(calib.PicturePt{Col: (f.left + f.right) / 2, Row: (f.top + f.bottom) / 2})))
	if t := c.Trust(); t.FarErrorM > 0 {
		p.lineFigure(x, w, "At its worst corner", "± %s m (95 %%)", metres(t.FarErrorM))
	}
	p.y += 3
}

// trials lists the kinds of fit that were tried and why. Where there is little
// room each reason but that of the one taken is cut to a line.
func (p *page) trials(x, w, bottom float64) {
	trials := p.s.Calibration.Trials()
	if len(trials) == 0 {
		return
	}
	p.heading(x, w, "Fits tried, by the miss of a point left out")
	whys := make([][]string, len(trials))
	height := 0.0
	p.text(smallSize, "", black)
	for i, t := range trials {
		whys[i] = p.broken(sentence(t.Reason), w-34)
		height += trialHeight(whys[i])
	}
	if p.y+height > bottom+line-2 {
		for i, t := range trials {
			if !t.Chosen {
				whys[i] = []string{p.fit(sentence(t.Reason), w-34)}
			}
		}
	}
	for i, t := range trials {
		p.trial(x, t, whys[i])
	}
}

func trialHeight(why []string) float64 { return math.Max(line, 3.2*float64(len(why))+0.8) }

func (p *page) trial(x float64, t calib.Trial, why []string) {
	style, c := "", grey
	if t.Chosen {
		style, c = "B", black
	}
	p.text(bodySize, style, black)
	p.put(x, p.y, t.Kind.String())
	miss := "–"
	if !math.IsInf(t.LOOM, 0) {
		miss = metres(t.LOOM) + " m"
	}
	p.putRight(x+31, p.y, miss)
	p.text(smallSize, "", c)
	for i, l := range why {
		p.put(x+34, p.y+3.2*float64(i), l)
	}
	p.y += trialHeight(why)
}

// table lists what is left over at the control points: all in their order, or
// those that fit worst.
func (p *page) table(x, w, bottom float64) {
	c := p.s.Calibration
	points, left := c.Points(), c.Residuals()
	if len(points) == 0 {
		return
	}
	p.heading(x, w, "Left over at the control points")
	rows := max(1, int((bottom-p.y-2)/line)-1)
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	note := ""
	if len(points) > rows {
		rows--
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(left[b].Px, left[a].Px) })
		order = order[:rows]
		note = fmt.Sprintf("The %d that fit worst, of %d.", rows, len(points))
	}
	p.text(smallSize, "", grey)
	edge := []float64{x + w - 33, x + w - 15, x + w}
	for i, h := range []string{"east, m", "north, m", "px"} {
		p.putRight(edge[i], p.y, h)
	}
	p.put(x, p.y, "reference less fit")
	p.y += line
	for _, i := range order {
		p.text(bodySize, "", grey)
		p.putRight(x+5, p.y, strconv.Itoa(i+1))
		p.text(bodySize, "", black)
		p.put(x+7.5, p.y, p.fit(p.reference(points[i]), w-33-7.5-13))
		for k, v := range []string{metres(left[i].EastM), metres(left[i].NorthM), fmt.Sprintf("%.2f", left[i].Px)} {
			p.putRight(edge[k], p.y, minus(v))
		}
		p.y += line
	}
	if note != "" {
		p.text(smallSize, "", grey)
		p.put(x, p.y, note)
	}
}

// reference is a control point's reference as it was typed, or in the way of
// its grid.
func (p *page) reference(q calib.ControlPoint) string {
	if q.Text != "" {
		return seen(q.Text)
	}
	if text, err := p.s.System.FormatRef(q.Ref, 6); err == nil {
		return text
	}
	e, n := p.s.System.InUnits(q.Ref)
	return fmt.Sprintf("%.0f %.0f", e, n)
}
