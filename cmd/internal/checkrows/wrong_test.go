package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/cmd/internal/checksheet"
)

// wrongSeed names the seed of the wrong sheets that are made anew. The task runner
// takes it from the commit's hash; without it the seed is fixed.
const wrongSeed = "LEGWRIGHT_WRONG_SEED"

// TestWrongSheets replays every wrong sheet that ever got checked or passed without
// a word. None may again, unless what it states of itself now covers its error.
func TestWrongSheets(t *testing.T) {
	t.Parallel()
	list, err := checksheet.ReadCases(filepath.Join("..", "..", "..", "testdata", "wrong"))
	if err != nil || len(list) < 50 {
		t.Fatalf("%d files: %v", len(list), err)
	}
	for name, c := range list {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a, off := askCase(c)
			for _, o := range c.Never {
				if o == checksheet.CheckedWrong && a.Checked && (c.Name || off > far) || o == checksheet.Silent && !a.told() && off > far {
					t.Errorf("%s: %s again, %.1f times its 95 %% off", c.What, o, off)
				}
			}
		})
	}
}

// askCase asks the program about a sheet from a file, and by how many times its
// stated 95 % it is off.
func askCase(c checksheet.Case) (answer, float64) {
	s := plan.Sheet{ID: sheetID, Picture: "made.png", Width: checksheet.Width, Height: checksheet.Height, Code: c.Code, World: c.Matrix}
	if c.Photo {
		s.Medium, s.Focal = calib.Photograph, c.FocalPx/math.Hypot(checksheet.Width, checksheet.Height)
	}
	for _, p := range c.Points {
		s.Points = append(s.Points, calib.ControlPoint{
			At: calib.PicturePt{Col: p.Col, Row: p.Row}, Ref: geodesy.Grid{E: p.E, N: p.N},
			Text: checksheet.Plain(checksheet.Coord{E: p.E, N: p.N}), SigmaRefM: p.SigmaRefM,
		})
	}
	var evidence []checksheet.Evidence
	for _, v := range c.Evidence {
		evidence = append(evidence, checksheet.Evidence{Source: v.Source, At: checksheet.Pt{X: v.Col, Y: v.Row}, Text: v.Text})
	}
	a := askSheet(s, evidence...)
	worst := 0.0
	for _, p := range c.Truth {
		at := calib.PicturePt{Col: p.Col, Row: p.Row}
		if a.c == nil {
			break
		}
		if ok, _ := a.c.Trusted(at); ok {
			worst = max(worst, apart(a.c.ToGrid(at), geodesy.Grid{E: p.E, N: p.N})/a.c.HalfWidth95M(at))
		}
	}
	return a, worst
}

// TestNewWrongSheets makes 500 more from a seed, by every kind of slip on every
// paper, each with a piece of right evidence.
func TestNewWrongSheets(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("the whole run does it")
	}
	seed := uint64(1)
	if text := os.Getenv(wrongSeed); text != "" {
		var err error
		if seed, err = strconv.ParseUint(text, 10, 64); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("seed %d", seed)
	kinds := append(checksheet.PointSlips(), checksheet.AllSlips()...)
	list := each(run{seed: seed}, 20, 500, func(i int, dice *rand.Rand) string {
		s, slip := slipped(checksheet.Papers()[i%9], kinds[i%len(kinds)], dice)
		evidence := checksheet.EvidenceKinds()
		k := evidence[dice.IntN(len(evidence))]
		v, err := s.EvidenceAt(k, somewhere(k, dice))
		if err != nil {
			v, err = s.EvidenceAt(checksheet.Second, corner(0))
		}
		if err != nil {
			return err.Error()
		}
		some := len(slip.Points) > 0 && len(slip.Points) < len(s.Points)
		if a := ask(s); some && !a.told() && a.off(s.Truth) > far {
			return fmt.Sprintf("%s, %s: silent, %.1f times its 95 %% off", s.Paper, slip, a.off(s.Truth))
		}
		if a := ask(s, v); a.Checked && (len(slip.Points) == 0 || a.off(s.Truth) > far) {
			return fmt.Sprintf("%s, %s: checked by %q", s.Paper, slip, v.Text)
		}
		return ""
	})
	for i, what := range list {
		if what != "" {
			t.Errorf("sheet %d of seed %d: %s", i, seed, what)
		}
	}
}
