package relief

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// AskInterval asks how far apart the contours of the sheet are, and calls then, which may
// be nil, once that is known.
func (r *Relief) AskInterval(then func()) {
	field := r.n.Ask.Entry("metres, such as 10")
	if sheet, _ := r.n.Session.Sheet(); sheet.Contour > 0 {
		field.SetText(strconv.FormatFloat(sheet.Contour, 'f', -1, 64))
	}
	r.n.Ask.Form(ask.Form{
		Title: "Contour interval", Verb: "Set", Focus: field, Size: fyne.NewSize(420, 220),
		Body: container.NewVBox(widgets.NewWrapped("How many metres apart are the contours on this sheet? Look in its legend or margin; 50 ft are 15.24 m."), field),
		Submit: func() error {
			m, err := parseInterval(field.Text)
			if err == nil {
				err = r.n.Session.SetContour(m)
			}
			if err == nil && then != nil {
				then()
			}
			return err
		},
	})
}

// parseInterval reads an interval in metres.
func parseInterval(text string) (float64, error) {
	body := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(text)), "m"))
	m, err := strconv.ParseFloat(strings.ReplaceAll(body, ",", "."), 64)
	if err != nil || !(m >= plan.MinContourM && m <= plan.MaxContourM) {
		return 0, fmt.Errorf("%q is not an interval: type a number of metres from %d to %d", text, plan.MinContourM, plan.MaxContourM)
	}
	return m, nil
}
