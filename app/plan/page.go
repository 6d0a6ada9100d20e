package plan

import "fmt"

// Page says which page of a document a sheet's picture is and how finely it
// was drawn. Pixel coordinates hold for that drawing only. The zero value
// stands for a file that is a single picture.
type Page struct {
	Number int     // counted from 1, 0 for the only picture of a file
	DPI    float64 // pixels per inch it was drawn at, 0 where nothing was drawn
}

// Limits of a page.
const (
	maxPage    = 1_000_000
	maxPageDPI = 100_000
)

func badPage(p Page) string {
	switch {
	case p.Number < 0 || p.Number > maxPage:
		return fmt.Sprintf("its page %d is not between 1 and %d", p.Number, maxPage)
	case !(p.DPI >= 0 && p.DPI <= maxPageDPI):
		return fmt.Sprintf("its page cannot be drawn at %g pixels per inch; at most %d are allowed", p.DPI, maxPageDPI)
	case p.DPI > 0 && p.Number == 0:
		return "it is drawn from a page, but does not say which one"
	}
	return ""
}
