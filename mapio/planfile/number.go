package planfile

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"time"

	"legwright/app/plan"
)

// Number is the plan number that stands on every paper: the first 6 hexadecimal digits of the
// SHA-256 of the plan's file, written without the paths of its pictures and terrain, without
// when it was saved and without what is remembered of earlier checks. So a plan keeps its
// number when it is moved, saved again or opened by a later version that judges its sheets
// otherwise, and any other difference, also in the content of a picture, gives another one but
// by chance (1 in 16 million). The error is the plan's *plan.Invalid.
func Number(p *plan.Plan) (string, error) {
	if err := p.Validate(); err != nil {
		return "", err
	}
	s := toShape(p)
	s.Saved = ""
	for i := range s.Sheets {
		s.Sheets[i].Picture, s.Sheets[i].WasChecked = "", false
	}
	for i := range s.Terrain {
		s.Terrain[i].Path = ""
	}
	text, err := layOut(s)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:3]), nil
}

// saved reads when the file was written, by the clock of the plan's zone or in UTC.
func (r *reader) saved(text string, zone *time.Location) time.Time {
	if text == "" {
		return time.Time{}
	}
	at, err := time.Parse(time.RFC3339, strings.TrimSpace(text))
	if err != nil {
		r.fail("%q is not a time such as 2026-11-25T18:40:00Z", shortened(text))
		return time.Time{}
	}
	if zone == nil {
		zone = time.UTC
	}
	return at.In(zone)
}
