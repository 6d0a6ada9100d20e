package main

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"legwright/cmd/internal/checksheet"
)

// soundRow counts the sound sheets that the program accuses, and those of four and
// more spread points whose slips it leaves open.
func soundRow(r run) error {
	type said struct {
		outcome
		a     answer
		photo bool
		small bool
	}
	papers := checksheet.Papers()
	list := each(r, 2, r.n(400)*len(papers), func(i int, dice *rand.Rand) said {
		p := papers[i%len(papers)]
		recipe := checksheet.Recipe{Paper: p, Layout: checksheet.Spread, N: 4 + dice.IntN(9)}
		if i/len(papers)%5 == 4 {
			recipe.Across = 15 + 15*dice.Float64()
		}
		s := checksheet.Make(recipe, dice)
		a := ask(s)
		return said{outcome{fmt.Sprintf("%s, %2d points: %s", p, recipe.N, strings.Join(a.stops, " ")), a.accused()}, a, p.Photo(), s.Across <= 15}
	})
	scans, photos, open, wide := counts{}, counts{}, counts{}, counts{}
	for i, o := range list {
		p := papers[i%len(papers)]
		kinds := scans
		if o.photo {
			kinds = photos
		}
		if p != checksheet.Fold && p != checksheet.Bend {
			kinds.add(o.kind, o.hit)
		}
		if p == checksheet.Flat || p == checksheet.Shrunk03 {
			kinds = open
			if !o.small {
				kinds = wide
			}
			kinds.add(strings.Split(o.kind, ":")[0], o.a.open)
		}
	}
	r.put(measured{"sound_scans_accused", scans.total().percent(), scans.total().of, scans.String()})
	r.put(measured{"sound_photos_accused", photos.total().percent(), photos.total().of, photos.String()})
	r.put(measured{"sound_open", open.total().percent(), open.total().of, open.String()})
	r.put(measured{"sound_wide_open", wide.total().percent(), wide.total().of, wide.String()})
	return nil
}
