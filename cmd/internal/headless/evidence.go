package headless

import (
	"fmt"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
)

// evidenceFlag collects evidence, "source:col,row=REF".
type evidenceFlag []typedEvidence

type typedEvidence struct {
	source calib.EvidenceSource
	named
}

func (f *evidenceFlag) String() string { return "" }

// Set reads one piece of evidence. Sheets and terrain have no reference to type.
func (f *evidenceFlag) Set(text string) error {
	source, rest, ok := strings.Cut(text, ":")
	from := calib.EvidenceSource(strings.TrimSpace(source))
	if !ok || !from.Known() || from == calib.FromTerrain {
		return fmt.Errorf("give where the reference comes from, a column, a row and the reference, such as list:1204,838=NL230430; sources are margin, list, receiver, sheet, file and own-grid")
	}
	var n nameFlag
	if err := n.Set(rest); err != nil {
		return fmt.Errorf("give a column, a row and the reference there, such as list:1204,838=NL230430")
	}
	*f = append(*f, typedEvidence{from, n[0]})
	return nil
}

// read reads the evidence on a grid. What comes from another sheet can disagree here,
// but check nothing, as figures of the map's own grid: nobody knows whether that sheet
// is checked.
func (f evidenceFlag) read(sys *geodesy.System, sigmaPx float64) ([]calib.Evidence, error) {
	var out []calib.Evidence
	for _, t := range f {
		source := t.source
		if source == calib.FromSheet {
			source = calib.FromOwnGrid
		}
		e, err := plan.ReadEvidence(source, t.ref, sys, nil)
		if err != nil {
			return nil, fmt.Errorf("--evidence %s: %w", t.ref, err)
		}
		if source == calib.FromMargin && !e.LatLon {
			return nil, fmt.Errorf("--evidence %s: easting and northing in the margin are the map's own grid: say own-grid, or give the latitude and longitude printed in the margin", t.ref)
		}
		e.At, e.SigmaPx = t.at, sigmaPx
		out = append(out, e)
	}
	return out, nil
}

// checkedObject is the key checked: by what, to how many metres and for what, or null.
func checkedObject(v check.Verdict) any {
	if !v.Checked {
		return nil
	}
	return object{{"by", v.By}, {"within_m", number(v.WithinM)}, {"scope", string(v.Scope)}}
}

// checkedWords say it in a line.
func checkedWords(v check.Verdict) string {
	switch {
	case v.Checked:
		return fmt.Sprintf("checked to ± %.0f m by %s", v.WithinM, v.By)
	case v.Advice != "":
		return "unchecked. " + v.Advice
	}
	return "unchecked"
}

// checkedEnds is the check of the sheets that the ends were picked on: of the one that
// is known less well, null where one of them is unchecked or neither was picked.
func checkedEnds(r *leg.Reader, ends ...plan.End) any {
	var worst check.Verdict
	for _, e := range ends {
		pos := r.Plan().Resolve(e)
		if pos.Origin != plan.Picked && !pos.DerivedFromSheet() {
			continue
		}
		v := r.Verdict(pos.Sheet)
		if !v.Checked {
			return nil
		}
		if !worst.Checked || v.WithinM > worst.WithinM {
			worst = v
		}
	}
	return checkedObject(worst)
}

// stateOf says in a word or two how far a sheet can be trusted.
func stateOf(r *leg.Reader, id plan.ID) string {
	if _, err := r.CalibrationOf(id); err != nil {
		return "not calibrated"
	}
	v := r.Verdict(id)
	if caution.Stops(v.Cautions, caution.All) {
		return strings.Join(caution.Shorts(v.Cautions), ", ")
	}
	return checkedWords(v)
}
