package card

import (
	"errors"
	"fmt"
	"image"
	"slices"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// squareSheet is a sheet of 400 × 400 pixels of 10 m, at 1:25,000, with a west edge in metres.
func squareSheet(id plan.ID, west float64) plan.Sheet {
	s := plan.Sheet{ID: id, Picture: string(id) + ".png", Width: 400, Height: 400, DPI: 63.5, Code: geodesy.EPSG(27700), Medium: calib.Drawn}
	for _, at := range []calib.PicturePt{{}, {Col: 400}, {Row: 400}, {Col: 400, Row: 400}} {
		s.Points = append(s.Points, calib.ControlPoint{At: at, Ref: geodesy.Grid{E: west + 10*at.Col, N: 724_000 - 10*at.Row}})
	}
	return s
}

// typedEast is a position that was typed, with its metres east.
func typedEast(e float64) plan.Position {
	return plan.Position{Grid: geodesy.Grid{E: e, N: 722_000}, Code: geodesy.EPSG(27700), Origin: plan.Typed}
}

// Of two sheets side by side, the first from 230 to 234 km and the second from 233 to 237 km, each
// map is cut on its own. A sheet is left out where the other shows every leg, unless something was
// picked on it; and where a leg runs off both, the first map shows all of it.
func TestMapsOfSeveralSheets(t *testing.T) {
	t.Parallel()
	west, east := squareSheet("west", 230_000), squareSheet("east", 233_000)
	fit, err := east.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	picked := plan.PickedAt(east, fit, calib.PicturePt{Col: 50, Row: 200}, 1) // at 233.5 km, on both sheets
	for name, c := range map[string]struct {
		from, to plan.Position
		want     []string // sheet, and its ground from west to east
	}{
		"over both":           {typedEast(231_000), typedEast(236_000), []string{"west 230750 234000", "east 233000 236250"}},
		"on the first":        {typedEast(231_000), typedEast(232_000), []string{"west 230750 232250"}},
		"on the second":       {typedEast(235_000), typedEast(236_000), []string{"east 234750 236250"}},
		"picked on the other": {typedEast(233_400), picked, []string{"east 233150 233750"}},
		"off both":            {typedEast(231_000), typedEast(238_000), []string{"west 230750 238250", "east 233000 237000"}},
		"nowhere near":        {typedEast(241_000), typedEast(242_000), []string{"west 240750 242250"}},
	} {
		p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetSheet(west).SetSheet(east)
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: plan.AtPosition(c.from), To: plan.AtPosition(c.to)})
		s := sourceOf(t, p)
		opened := []string{}
		maps, err := contentOf(t, s).Maps(s, 0, func(sheet plan.Sheet) (Picture, error) {
			opened = append(opened, string(sheet.ID))
			return Picture{Cut: func(r image.Rectangle) (*image.RGBA, error) { return image.NewRGBA(r), nil }}, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i, m := range maps {
			if m.Scale != 25_000 || m.Sheet.Name != opened[i]+".png" {
				t.Errorf("%s: the map of %s is cut from %s at 1:%d", name, opened[i], m.Sheet.Name, m.Scale)
			}
			if want := "Sheet " + opened[i] + ".png: unchecked."; m.Words[0] != want {
				t.Errorf("%s: the map says %q, want %q", name, m.Words, want)
			}
			got = append(got, fmt.Sprintf("%s %.0f %.0f", opened[i], m.Ground.West, m.Ground.East))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A picture that cannot be read, and a scale that nobody knows, say of which sheet.
func TestMapsSayWhichSheet(t *testing.T) {
	t.Parallel()
	sheet := squareSheet("west", 230_000)
	sheet.DPI = 0
	p := plan.New(plan.Date{}).SetSheet(sheet)
	s := sourceOf(t, p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: plan.AtPosition(typedEast(231_000)), To: plan.AtPosition(typedEast(232_000))}))
	gone, unscaled, unmapped := errors.New("gone"), &Unscaled{}, &Unmapped{}
	c := contentOf(t, s)
	if _, err := c.Maps(s, 0, func(plan.Sheet) (Picture, error) { return Picture{}, nil }); !errors.As(err, &unscaled) || unscaled.Sheet != "west.png" {
		t.Errorf("without a scale: %v", err)
	}
	if _, err := c.Maps(s, 25_000, func(plan.Sheet) (Picture, error) { return Picture{}, gone }); !errors.As(err, &unmapped) || !errors.Is(err, gone) {
		t.Errorf("without a picture: %v", err)
	}
}
