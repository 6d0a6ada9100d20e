package main

import (
	"math/rand/v2"

	"legwright/app/plan"
	"legwright/cmd/internal/checksheet"
)

// fileSheet is a sheet that its file places, as a plan has it.
func fileSheet(f checksheet.File) plan.Sheet {
	s := sheetOf(f.Sheet)
	s.Points, s.World = nil, &f.Matrix
	return s
}

// fileRow checks sheets whose files lie by evidence and counts those that get
// checked: three named intersections, with or without another piece of evidence, or
// that one alone.
func fileRow(r run) error {
	lies := checksheet.Lies()
	kinds := append(checksheet.EvidenceKinds(), checksheet.EastNorth)
	c := tally(each(r, 10, r.n(1000), func(i int, dice *rand.Rand) outcome {
		l := lies[i%len(lies)]
		f := checksheet.MakeFile(l, dice)
		k, way := kinds[dice.IntN(len(kinds))], i/len(lies)%3
		var list []checksheet.Evidence
		if way != 2 {
			list = f.Named()
		}
		if way != 0 {
			if v, err := f.EvidenceAt(k, somewhere(k, dice)); err == nil {
				list = append(list, v)
			}
		}
		a := askSheet(fileSheet(f), list...)
		name := []string{"three names", "three names and ", ""}[way]
		if way != 0 {
			name += string(k)
		}
		return outcome{string(l) + ", " + name, a.Checked && (l.Name() || a.off(f.Truth) > far)}
	}))
	r.put(measured{"files_checked", float64(c.total().hits), c.total().of, c.String()})
	return nil
}
