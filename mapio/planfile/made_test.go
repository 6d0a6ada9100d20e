package planfile

import (
	"fmt"
	"math"
	"time"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// isle is a plan on invented ground with something of every kind in it.
func isle() *plan.Plan {
	s := plan.Sheet{
		ID: "sheet-1", Picture: "maps/isle.png", Width: 2000, Height: 1800, Code: geodesy.EPSG(27700), DPI: 254, Medium: calib.Photograph,
		Page: plan.Page{Number: 3, DPI: 200}, Contour: 10,
		SHA256: "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef",
	}
	s = s.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: 200.25, Row: 200}, Ref: geodesy.Grid{E: 51_000, N: 799_000}, Text: "NL 51 99"})
	s = s.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: 1800, Row: 1700.5}, Ref: geodesy.Grid{E: 59_000, N: 791_500}, Text: "59000 791500", SigmaPx: 0.3, SigmaRefM: 2})
	s = s.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: 1800, Row: 200.25}, Ref: geodesy.Grid{E: 59_000, N: 799_000}, Text: "NL 59 99"})
	s = s.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: 200.25, Row: 1700.25}, Ref: geodesy.Grid{E: 51_000, N: 791_500}, Text: "51000 791500"})
	s = s.WithEvidence(calib.Evidence{
		Source: calib.FromList, At: calib.PicturePt{Col: 870, Row: 610.5}, SigmaPx: 0.5, Text: "E 54349 N 796948", Ref: geodesy.Grid{E: 54_349, N: 796_948},
	})
	s = s.WithEvidence(calib.Evidence{
		Source: calib.FromSheet, At: calib.PicturePt{Col: 1700, Row: 610.5}, SigmaPx: 0.5, Text: "Gate", Ref: geodesy.Grid{E: 58_500, N: 796_948}, SigmaRefM: 2,
		Sheet: "sheet-2", SheetAt: calib.PicturePt{Col: 12.5, Row: 600}, SheetSigmaPx: 0.4,
	})
	s = s.WithEvidence(calib.Evidence{Source: calib.FromMargin, Text: "57°00'N 7°30'W", LatLon: true, SigmaPx: 0.7})
	s = s.WithEvidence(calib.Evidence{Source: calib.FromOwnGrid, At: calib.PicturePt{Col: 400, Row: 400.5}, SquareM: 1000})
	s.SlipChosen, s.FileCautions = true, "unchecked"
	c, err := s.Calibration()
	if err != nil {
		panic(err)
	}
	cairn := plan.PickedAt(s, c, calib.PicturePt{Col: 700.125, Row: 749.5}, 0.5)
	cairn.Grid, cairn.SigmaM = geodesy.Grid{E: 53499.77, N: 796253.35}, 2.5 // the last digits are the machine's
	if g := c.ToGrid(cairn.At); math.Hypot(g.E-cairn.Grid.E, g.N-cairn.Grid.N) > 0.05 {
		panic(fmt.Sprintf("the cairn's picture point lies at %v on the sheet", g))
	}
	hut := plan.Position{Grid: geodesy.Grid{E: 54_250, N: 795_150}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "NL 542 951", SquareM: 100, SigmaM: 28.867513459481287}
	ford := plan.Position{Grid: geodesy.Grid{E: 55_001, N: 795_900}, Code: geodesy.EPSG(27700), Origin: plan.Imported, SigmaM: 5}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 25}).SetTitle("Round of the tops").SetSheet(s)
	p = p.AddMark(plan.Mark{ID: "mark-1", Name: "North cairn", Position: cairn, Note: "large,\nwhite stones"})
	p = p.AddMark(plan.Mark{ID: "mark-2", Name: "Hut", Position: hut, Import: "huts.gpx"})
	m, own := plan.AtMark(p.Marks[0]), plan.AtPosition(ford)
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: m, To: own, Name: "down", TickOff: "wall, stream", Catching: "the ground rises", Ground: pace.Rough, Import: "huts.gpx"})
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: own, To: plan.AtMark(p.Marks[1])})
	p = p.AddSight(plan.Sight{ID: "sight-1", From: m, To: plan.AtMark(p.Marks[1]), Note: "in clear weather"})
	p = p.AddTrack(plan.Track{ID: "track-1", Name: "last year", Hidden: true, Import: "last year.gpx", Points: []geodesy.LatLon{geodesy.DegLatLon(57.1, -7.5), geodesy.DegLatLon(57.100001, -7.500002)}})
	party := plan.DefaultParty()
	party.Compass = plan.Compass{Set: true, SetTo: units.Degrees(-2.5), Sigma: units.Degrees(1.5), Circle: units.Mils6400}
	timing := plan.Timing{
		Method: pace.Naismith1892, Langmuir: true, Fitness: 30, Load: true, Night: true, HeadWind: true,
		RestMinPerHour: 7.5, Start: plan.ClockTime(9, 30), Zone: "Europe/London",
	}
	return p.SetParty(party).SetTiming(timing).SetOverSteep(22).StampSaved(time.Date(2026, time.November, 24, 18, 40, 5, 0, time.UTC))
}

func drawPlan(t *rapid.T) *plan.Plan {
	text := rapid.StringMatching(`[A-Za-zäé "\\/<>&]{0,20}`)
	coord := rapid.Float64Range(-1e7, 1e7)
	position := rapid.Custom(func(t *rapid.T) plan.Position {
		p := plan.Position{
			Grid: geodesy.Grid{E: coord.Draw(t, "e"), N: coord.Draw(t, "n")}, Code: rapid.SampledFrom([]geodesy.Code{geodesy.EPSG(27700), geodesy.EPSG(29903), geodesy.EPSG(2157), geodesy.EPSG(2193), geodesy.EPSG(32619), geodesy.EPSG(32755), isleGrid}).Draw(t, "grid"),
			Origin: plan.Origin(rapid.IntRange(0, 2).Draw(t, "origin")), SigmaM: rapid.Float64Range(0, 100).Draw(t, "sigma"),
		}
		p.Cautions = rapid.SampledFrom([]string{"", "", "unchecked; no-redundancy: isle.tif"}).Draw(t, "cautions")
		if p.Origin == plan.Picked {
			p.At, p.Sheet = calib.PicturePt{Col: coord.Draw(t, "col"), Row: coord.Draw(t, "row")}, "sheet-1"
			p.PickSigmaPx = rapid.Float64Range(0, 10).Draw(t, "pick")
		}
		if p.Origin == plan.Typed {
			p.Text, p.SquareM = text.Draw(t, "text"), rapid.SampledFrom([]float64{0, 1, 100}).Draw(t, "square")
			p.LettersFrom = rapid.SampledFrom([]plan.ID{"", "", "sheet-1", "gone"}).Draw(t, "letters of")
		}
		return p
	})
	p := plan.New(plan.Date{Year: rapid.IntRange(1900, 2200).Draw(t, "year"), Month: 2, Day: 28}).SetTitle(text.Draw(t, "title"))
	p.Extra = drawExtra(t)
	for range rapid.IntRange(0, 4).Draw(t, "marks") {
		p = p.AddMark(plan.Mark{ID: p.NextID(plan.OfMark), Name: "m" + text.Draw(t, "name"), Note: text.Draw(t, "note") + "\n", Position: position.Draw(t, "at")})
	}
	end := func() plan.End {
		if len(p.Marks) > 0 && rapid.Bool().Draw(t, "at mark") {
			return plan.AtMark(rapid.SampledFrom(p.Marks).Draw(t, "mark"))
		}
		return plan.AtPosition(position.Draw(t, "own"))
	}
	for range rapid.IntRange(0, 4).Draw(t, "legs") {
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: end(), To: end(), TickOff: text.Draw(t, "tick")})
	}
	if rapid.Bool().Draw(t, "track") {
		p = p.AddTrack(plan.Track{ID: "track-1", Name: text.Draw(t, "track name"), Points: []geodesy.LatLon{geodesy.DegLatLon(rapid.Float64Range(-90, 90).Draw(t, "lat"), 12)}})
	}
	party := plan.DefaultParty()
	party.Compass.Circle = rapid.SampledFrom(units.Circles()).Draw(t, "circle")
	party.Compass.SetTo = units.Degrees(rapid.Float64Range(-180, 180).Draw(t, "set to"))
	party.SpeedKmh = rapid.Float64Range(0.5, 15).Draw(t, "speed")
	timing := plan.Timing{
		Method: rapid.SampledFrom(pace.Methods()).Draw(t, "method"), Langmuir: rapid.Bool().Draw(t, "langmuir"),
		Fitness: rapid.SampledFrom(append(pace.Fitnesses(), 0)).Draw(t, "fitness"), HeadWind: rapid.Bool().Draw(t, "wind"),
		RestMinPerHour: rapid.Float64Range(0, 120).Draw(t, "rests"), Zone: rapid.SampledFrom([]string{"", "UTC", "Pacific/Auckland"}).Draw(t, "zone"),
	}
	if rapid.Bool().Draw(t, "starts") {
		timing.Start = plan.ClockTime(rapid.IntRange(0, 23).Draw(t, "hour"), rapid.IntRange(0, 59).Draw(t, "minute"))
	}
	p = p.SetOverSteep(rapid.SampledFrom([]int{0, plan.MinOverSteepDeg, 33, plan.MaxOverSteepDeg}).Draw(t, "over-steep"))
	return p.SetParty(party).SetTiming(timing)
}

func drawExtra(t *rapid.T) plan.Extra {
	return rapid.SampledFrom([]plan.Extra{"", "", `{"haven":[1,2,{"a":null}]}`, `{"colour":"x\u003cy","zoom":1e300}`}).Draw(t, "extra")
}

// isleGrid is a grid of no catalogue, in the one way that its code is written.
const isleGrid geodesy.Code = "+proj=tmerc +lat_0=57 +lon_0=-6 +k_0=0.9999 +x_0=10000 +y_0=20000 +a=6378388 +rf=297 +towgs84=-87,-98,-121 +no_defs +title=Isle_grid"
