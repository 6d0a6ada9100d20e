package main

import (
	"fmt"
	"math/rand/v2"
	"time"

	"legwright/app/calib"
	"legwright/cmd/internal/checksheet"
)

// timeRow is how long a fit with its judgement takes, and the joint covariance of two
// positions, in milliseconds.
func timeRow(r run) error {
	for _, k := range []struct {
		name  string
		paper checksheet.Paper
		n     int
	}{{"12", checksheet.Flat, 12}, {"photo_12", checksheet.Oblique, 12}, {"225", checksheet.Flat, 225}} {
		dice := rand.New(rand.NewPCG(r.seed, uint64(k.n)))
		s := checksheet.Make(checksheet.Recipe{Paper: k.paper, Layout: checksheet.Spread, N: k.n, StepM: 1000, Across: 24}, dice)
		v, err := s.EvidenceAt(checksheet.Second, corner(0))
		if err != nil {
			return err
		}
		a := ask(s, v)
		if a.c == nil {
			return fmt.Errorf("%d points are refused", k.n)
		}
		took := timed(11, func() { ask(s, v) })
		r.put(measured{"fit_judge_" + k.name, took, 11, ""})
		p, q := calib.PicturePt{Col: 700, Row: 500}, calib.PicturePt{Col: 2400, Row: 2000}
		const many = 20
		took = timed(11, func() {
			for i := range many {
				a.c.Joint(calib.PicturePt{Col: p.Col + float64(i), Row: p.Row}, q, 0, 0)
			}
		})
		r.put(measured{"joint_" + k.name, took / many, 11, ""})
	}
	return nil
}

// timed is the median time of some calls in milliseconds.
func timed(times int, do func()) float64 {
	var list []float64
	for range times {
		began := time.Now()
		do()
		list = append(list, float64(time.Since(began))/float64(time.Millisecond))
	}
	return median(list)
}
