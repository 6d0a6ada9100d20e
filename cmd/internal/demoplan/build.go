package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/assets/demo"
)

// pickSigmaPx is a pointer's σ on the scan at its own size.
const pickSigmaPx = 0.5

// build makes the demo plan.
func build() (*plan.Plan, error) {
	date, err := plan.ParseDate(demo.Date)
	if err != nil {
		return nil, err
	}
	sheet, c, err := calibrated()
	if err != nil {
		return nil, err
	}
	timing := plan.DefaultTiming()
	timing.Zone, timing.Start = demo.Zone, plan.ClockTime(demo.Hour, 30)
	p := plan.New(date).SetTitle(demo.Title).SetTiming(timing).SetSheet(sheet).SetTerrain([]plan.Terrain{{Path: plan.EmbeddedPrefix + demo.TerrainName, SHA256: sumOf(demo.Terrain())}})
	marks := map[string]plan.Mark{}
	for _, m := range demo.Marks() {
		mark := plan.Mark{ID: p.NextID(plan.OfMark), Name: m.Name, Position: position(m, sheet, c), InCloud: slices.Contains(demo.InCloud(), m.Name)}
		marks[m.Name] = mark
		p = p.AddMark(mark)
	}
	for _, l := range demo.Legs() {
		p = p.AddLeg(plan.Leg{
			ID: p.NextID(plan.OfLeg), From: plan.AtMark(marks[l.From]), To: plan.AtMark(marks[l.To]),
			TickOff: l.Note, Catching: l.Catching,
		})
	}
	for _, s := range demo.Sights() {
		p = p.AddSight(plan.Sight{
			ID: p.NextID(plan.OfSight), From: plan.AtMark(marks[s.From]), To: plan.AtMark(marks[s.To]), Note: s.Note,
		})
	}
	p = withEscapes(withShapes(p, sheet, c), marks, sheet, c)
	return p, p.Validate()
}

// withEscapes adds the escapes, which nobody has ticked.
func withEscapes(p *plan.Plan, marks map[string]plan.Mark, sheet plan.Sheet, c *calib.Calibration) *plan.Plan {
	for _, x := range demo.Escapes() {
		e := plan.Escape{ID: p.NextID(plan.OfEscape), Start: plan.AtMark(marks[x.From]), Chosen: true}
		for _, l := range x.Legs {
			leg := plan.EscapeLeg{To: plan.AtPosition(plan.PickedAt(sheet, c, onScan(l.E, l.N), pickSigmaPx))}
			for _, line := range p.Lines {
				if l.Along != "" && line.Name == l.Along {
					leg.Along = line.ID
				}
			}
			e.Legs = append(e.Legs, leg)
		}
		p = p.AddEscape(e)
	}
	return p
}

// withShapes adds the hazards, havens and lines, picked on the scan.
func withShapes(p *plan.Plan, sheet plan.Sheet, c *calib.Calibration) *plan.Plan {
	points := func(s demo.Shape) (out []plan.Position) {
		for _, en := range s.Points {
			out = append(out, plan.PickedAt(sheet, c, onScan(en[0], en[1]), pickSigmaPx))
		}
		return out
	}
	for _, s := range demo.Hazards() {
		kind := plan.HazardKind(s.Kind)
		p = p.AddHazard(plan.Hazard{ID: p.NextID(plan.OfHazard), Name: s.Name, Kind: kind, Closed: true, KeepM: kind.DefaultKeepM(0), Points: points(s)})
	}
	for _, s := range demo.Havens() {
		p = p.AddHaven(plan.Haven{ID: p.NextID(plan.OfHaven), Name: s.Name, Kind: plan.HavenKind(s.Kind), Out: plan.Minutes{Known: true, Min: s.OutMin}, Points: points(s)})
	}
	for _, s := range demo.Lines() {
		p = p.AddLine(plan.Line{ID: p.NextID(plan.OfLine), Name: s.Name, Kind: plan.LineKind(s.Kind), Points: points(s)})
	}
	return p
}

// calibrated returns the scan as a sheet calibrated on its four corner intersections, with the survey pillar as evidence.
func calibrated() (plan.Sheet, *calib.Calibration, error) {
	truth := demo.ScanTruth()
	sheet := plan.Sheet{
		ID: "sheet-1", Picture: plan.EmbeddedPrefix + demo.ScanName, Width: truth.Width, Height: truth.Height,
		SHA256: sumOf(demo.Scan()), DPI: truth.DPI, Code: geodesy.EPSG(truth.EPSG), Contour: 10,
	}
	for _, g := range demo.CornerIntersections() {
		sheet = sheet.WithPoint(calib.ControlPoint{
			At:   onScan(g.E, g.N),
			Ref:  geodesy.Grid{E: g.E, N: g.N},
			Text: fmt.Sprintf("NL %02.0f %02.0f", g.E/1000, math.Mod(g.N/1000, 100)),
		})
	}
	c, err := sheet.Calibration()
	if err != nil {
		return sheet, nil, fmt.Errorf("calibrate the demo scan: %w", err)
	}
	for _, m := range demo.Marks() {
		if m.Feature != demo.TrigPillar {
			continue
		}
		sheet = sheet.WithEvidence(calib.Evidence{
			Source: calib.FromList, At: onScan(m.E, m.N), SigmaPx: pickSigmaPx, Text: fmt.Sprintf("E %.0f N %.0f", m.E, m.N), Ref: geodesy.Grid{E: m.E, N: m.N},
		})
	}
	return sheet, c, nil
}

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// position returns where a mark stands: picked on the scan, but for the pillar, whose coordinates are typed.
func position(m demo.Mark, sheet plan.Sheet, c *calib.Calibration) plan.Position {
	if m.Feature != demo.TrigPillar {
		return plan.PickedAt(sheet, c, onScan(m.E, m.N), pickSigmaPx)
	}
	return plan.Position{
		Grid: geodesy.Grid{E: m.E, N: m.N}, Code: geodesy.EPSG(demo.ScanTruth().EPSG),
		Origin: plan.Typed, Text: fmt.Sprintf("%.0f %.0f", m.E, m.N),
	}
}

// onScan returns the point of a grid position on the scan, to the hundredth of a pixel as the bench keeps it.
func onScan(e, n float64) calib.PicturePt {
	col, row := demo.Intersection(e, n)
	return calib.PicturePt{Col: math.Round(col*100) / 100, Row: math.Round(row*100) / 100}
}
