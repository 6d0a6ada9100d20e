package ui

import (
	"fmt"
	"regexp"

	"legwright/app/ui/widgets"
)

// listedRoom is how much room a row of the Sheet post's lists has, in units of
// the window: the panel's width without its margins and a scroll bar.
const listedRoom = panelWidth - postsGap - 12 - 9

// listReference writes a control point's number and reference into its row, so
// that the row is never wider than the panel with what stands beside it. The
// point itself keeps the reference whole, and so does the row's hint.
func listReference(row *widgets.Tool, i int, text string, beside float32) {
	short := shortRef(text)
	row.SetText(fmt.Sprintf("%d   %s", i+1, short))
	if row.MinSize().Width+beside <= listedRoom {
		return
	}
	short = regexp.MustCompile(`(\.\d{3})\d+°`).ReplaceAllString(short, "$1°")
	for n := len([]rune(short)); n > 3; n-- {
		row.SetText(fmt.Sprintf("%d   %s", i+1, cutMiddle(short, n)))
		if row.MinSize().Width+beside <= listedRoom {
			return
		}
	}
}
