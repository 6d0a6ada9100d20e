package calib

import (
	"strings"

	"legwright/app/caution"
)

// Cautions returns what the checks of the calibration found, in words for people.
func (c *Calibration) Cautions() []caution.Caution {
	out := make([]caution.Caution, 0, len(c.warnings))
	for _, w := range c.warnings {
		out = append(out, w.Caution())
	}
	return out
}

// Caution returns the caution of what a check found.
func (w Warning) Caution() caution.Caution {
	switch w.Code {
	case CodeSwappedAll, CodeSwappedPoint, CodeExchanged, CodeDigitOut, CodeOutlier:
		text, code := w.Text, caution.SlipNamed
		if _, rest, ok := strings.Cut(text, severalWords); ok {
			text, code = rest, caution.SlipSet
		}
		return caution.Of(code, text)
	}
	return caution.Of(caution.Code(w.Code), w.Args[:]...)
}
