package sheetpanel

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// pointList lists the control points by their reference, with the residual of each.
type pointList struct {
	n      *Needs
	head   *widgets.Heading
	rows   *fyne.Container
	choose func(int)
	top    func() float32    // where the rows begin in the panel
	words  *widgets.Sentence // above the rows; says which points they are
	all    []*listedPoint    // those that are seen come first; made once, for new ones take most of a frame
}

// pointRow is one control point of the list.
type pointRow struct {
	i          int
	text, note string
	chosen     bool
}

func newPointList(n *Needs, choose func(int)) *pointList {
	l := &pointList{n: n, head: widgets.NewHeading("Control points"), words: widgets.NewSentence("", widgets.Note), choose: choose}
	l.words.Hide()
	l.rows = container.NewVBox(l.words)
	return l
}

// tellingPoints is how many control points leave residuals that say how good a fit
// is: fewer are met nearly exactly, whatever they are, because paper may stretch.
const tellingPoints = 4

// show lists the points of a sheet; c is its calibration or nil.
func (l *pointList) show(sheet plan.Sheet, c *calib.Calibration, chosen int) {
	var left []calib.Residual
	if c != nil && !c.Given() {
		left = c.Residuals()
	}
	listed := listedPoints(sheet.Points, left, chosen)
	rows := make([]pointRow, len(listed))
	for k, i := range listed {
		rows[k] = pointRow{i, sheet.Points[i].Text, "", i == chosen}
		if i < len(left) && c.DOF() > 0 {
			rows[k].note = residualWords(math.Hypot(left[i].EastM, left[i].NorthM), left[i].Px)
		}
	}
	l.list(rows, listedWords(len(listed), len(sheet.Points), len(left) == len(sheet.Points)))
	switch {
	case len(sheet.Points) == 0:
		l.head.SetNote("none yet")
	case c != nil && len(sheet.Points) >= tellingPoints && c.DOF() > 0:
		l.head.SetNote("typical residual " + residualWords(c.RMSM(), c.RMSPx()))
	default:
		l.head.SetNote("")
	}
}

// list shows rows below words.
func (l *pointList) list(rows []pointRow, words string) {
	l.words.Set(words, widgets.Note)
	show(l.words, words != "")
	for i, r := range rows {
		if i == len(l.all) {
			l.all = append(l.all, l.newRow())
			l.rows.Add(l.all[i])
		}
		l.all[i].show(r)
	}
	for i, x := range l.all {
		show(x, i < len(rows))
	}
	l.rows.Layout.Layout(l.rows.Objects, l.rows.Size())
}

// residualWords write a residual in few letters however large it is.
func residualWords(m, px float64) string {
	text := fmt.Sprintf("%.1f m", m)
	switch {
	case m >= 10_000:
		text = fmt.Sprintf("%.0f km", m/1000)
	case m >= 100:
		text = fmt.Sprintf("%.0f m", m)
	}
	if px >= 100 {
		return text + fmt.Sprintf("  %.0f px", px)
	}
	return text + fmt.Sprintf("  %.1f px", px)
}

// listedWords say above the list that it does not hold all points, and which it holds.
func listedWords(listed, all int, fitted bool) string {
	switch {
	case listed == all:
		return ""
	case fitted:
		return fmt.Sprintf("These %d of %d have the largest residuals. To see another point, click it on the map.", listed, all)
	}
	return fmt.Sprintf("These are the first %d of %d. To see another point, click it on the map.", listed, all)
}

// mostListed is how many control points are listed; a printed grid has hundreds.
const mostListed = 12

// listedPoints are the control points that are listed: all, or those with the largest
// residuals and the chosen one.
func listedPoints(points []calib.ControlPoint, left []calib.Residual, chosen int) []int {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	if len(points) <= mostListed || len(left) != len(points) {
		return order[:min(len(order), 4*mostListed)]
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case a == chosen:
			return -1
		case b == chosen:
			return 1
		}
		return cmp.Compare(left[b].Px, left[a].Px)
	})
	return order[:mostListed]
}

// listedPoint is a row of the list as it is drawn. The toolkit paints what is scrolled out of
// sight like all else, so there the row is empty.
type listedPoint struct {
	widget.BaseWidget
	l            *pointList
	seen         bool // the last time it was asked what it holds
	of           pointRow
	body, beside *fyne.Container
	name, remove *widgets.Tool
	rest         *widgets.Quiet
}

func (l *pointList) newRow() *listedPoint {
	x := &listedPoint{l: l, of: pointRow{i: -1}, rest: widgets.NewQuiet("")}
	x.name = l.n.entry("", "", func() { l.choose(x.of.i) })
	x.remove = l.n.iconTool(look.IconDelete, "", func() {
		l.n.Foot.Try(l.n.Session.RemoveControlPoint(x.of.i), deletedPoint(x.of.i))
	})
	x.beside = container.NewHBox(x.rest, x.remove)
	x.body = container.NewBorder(nil, nil, nil, x.beside, x.name)
	x.name.OnFocus, x.remove.OnFocus = x.reveal, x.reveal
	x.ExtendBaseWidget(x)
	return x
}

// near reports whether the row is seen, or stands no farther from what is than that.
func (x *listedPoint) near(away float32) bool {
	top := x.l.top() + x.Position().Y
	return x.l.n.InSight(top-away, top+x.Size().Height+away)
}

// reveal scrolls a row that Tab reached into sight. One that is clicked stays below the pointer.
func (x *listedPoint) reveal() {
	if !x.near(0) {
		x.l.n.Reveal(x)
	}
}

// CreateRenderer makes the row; Fyne calls it.
func (x *listedPoint) CreateRenderer() fyne.WidgetRenderer { return pointRenderer{x} }

type pointRenderer struct{ x *listedPoint }

func (r pointRenderer) Destroy()           {}
func (r pointRenderer) Layout(s fyne.Size) { r.x.body.Resize(s) }
func (r pointRenderer) MinSize() fyne.Size { return r.x.body.MinSize() }
func (r pointRenderer) Refresh()           { r.x.body.Refresh() }

// Objects is what the row holds. The next row beyond those that are seen is whole, so that Tab
// reaches it.
func (r pointRenderer) Objects() []fyne.CanvasObject {
	was := r.x.seen
	if r.x.seen = r.x.near(r.x.Size().Height + theme.Padding()); !r.x.seen {
		return nil
	}
	if !was { // the toolkit forgets how to draw what it has not painted for a minute
		r.x.body.Refresh()
	}
	return []fyne.CanvasObject{r.x.body}
}

// show shows a control point in the row.
func (x *listedPoint) show(r pointRow) {
	if x.of == r {
		return
	}
	x.of = r
	x.rest.SetText(r.note)
	x.name.SetHint("Change this control point: " + r.text)
	x.name.SetOn(r.chosen)
	x.remove.SetHint(fmt.Sprintf("Delete control point %d", r.i+1))
	listReference(x.name, r.i, r.text, x.beside.MinSize().Width+theme.Padding())
	x.body.Refresh()
}

// listReference writes a control point's number and reference into its row, so that
// the row is never wider than the panel with what stands beside it. The point itself
// keeps the whole reference, and the row's hint shows it.
func listReference(row *widgets.Tool, i int, text string, beside float32) {
	short := shortRef(text)
	row.SetText(fmt.Sprintf("%d   %s", i+1, short))
	if row.MinSize().Width+beside <= widgets.RowWidth {
		return
	}
	short = regexp.MustCompile(`(\.\d{3})\d+°`).ReplaceAllString(short, "$1°")
	for n := len([]rune(short)); n > 3; n-- {
		row.SetText(fmt.Sprintf("%d   %s", i+1, widgets.CutMiddle(short, n)))
		if row.MinSize().Width+beside <= widgets.RowWidth {
			return
		}
	}
}

// shortRef is a reference as it is listed: what a file gives to the millimetre is
// wider than the panel, and is listed to the metre.
func shortRef(text string) string {
	const room = 16 // letters
	var e, n float64
	if len(text) <= room {
		return text
	}
	if _, err := fmt.Sscanf(text, "%g %g", &e, &n); err != nil || fmt.Sprintf("%.3f %.3f", e, n) != text {
		return text
	}
	return fmt.Sprintf("%.0f %.0f", e, n)
}
