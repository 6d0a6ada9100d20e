package geodesy

import (
	"math/rand/v2"
	"testing"

	datums "legwright/assets/datum"
)

// places returns seeded random places of a grid's area.
func places(s *System, n int) []LatLon {
	rng := rand.New(rand.NewPCG(7, uint64(s.epsg)))
	out := make([]LatLon, n)
	b := s.area[0]
	for i := range out {
		out[i] = DegLatLon(b.south+rng.Float64()*(b.north-b.south), b.west+rng.Float64()*(b.east-b.west))
	}
	return out
}

func BenchmarkProject(b *testing.B) {
	s := UTM(30, true)
	lls := places(s, 1024)
	i := 0
	for b.Loop() {
		if _, _, err := s.Project(lls[i&1023]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkUnproject(b *testing.B) {
	s := UTM(30, true)
	grids := make([]Grid, 1024)
	for i, ll := range places(s, len(grids)) {
		grids[i], _, _ = s.Project(ll)
	}
	i := 0
	for b.Loop() {
		if _, _, err := s.Unproject(grids[i&1023]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkFromWGS84(b *testing.B) {
	for _, epsg := range []int{epsgBritain, epsgIrish} {
		s := mustLookup(epsg)
		b.Run(s.name, func(b *testing.B) {
			lls := places(s, 1024)
			i := 0
			for b.Loop() {
				if _, _, _, err := s.FromWGS84(lls[i&1023]); err != nil {
					b.Fatal(err)
				}
				i++
			}
		})
	}
}

func BenchmarkOpenOSTN15(b *testing.B) {
	for b.Loop() {
		g := openShiftGrid(datums.OSTN15())
		for i := range g.bands {
			g.band(i)
		}
	}
}

func BenchmarkParseRef(b *testing.B) {
	for b.Loop() {
		if _, err := ParseRef("NN 12345 67890", RefContext{}); err != nil {
			b.Fatal(err)
		}
	}
}
