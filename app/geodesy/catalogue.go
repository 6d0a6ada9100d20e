package geodesy

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
)

// Codes of the catalogue's single grids. 5041 and 5042 are UPS with easting
// first.
const (
	epsgBritain  = 27700
	epsgIrish    = 29903
	epsgITM      = 2157
	epsgNZTM     = 2193
	epsgUPSNorth = 5041
	epsgUPSSouth = 5042
)

// σ per axis of taking ETRS89 or NZGD2000 for WGS 84; the EPSG dataset gives
// 1 m for each.
const nullShiftSigmaM = 0.5

// index is the whole catalogue, in the order it is offered, and by code.
type index struct {
	list   []*System
	byCode map[int]*System
}

// catalogue builds the index once; nothing changes it afterwards.
var catalogue = sync.OnceValue(buildCatalogue)

func buildCatalogue() *index {
	x := &index{byCode: map[int]*System{}}
	add := func(s *System) {
		x.list = append(x.list, s)
		x.byCode[s.epsg] = s
	}
	for _, s := range nationalGrids() {
		add(s)
	}
	for zone := 1; zone <= 60; zone++ {
		add(newUTM(zone, true))
	}
	for zone := 1; zone <= 60; zone++ {
		add(newUTM(zone, false))
	}
	add(newUPSSystem(true))
	add(newUPSSystem(false))
	return x
}

// nationalGrids returns the grids of single countries. Projection figures and
// areas of use are those of the EPSG dataset.
func nationalGrids() []*System {
	return []*System{
		{
			epsg: epsgBritain, name: "British National Grid", country: "Great Britain",
			words:     []string{"united kingdom", "england", "scotland", "wales", "isle of man", "osgb36", "uk"},
			ellipsoid: Airy1830(),
			proj:      newTransverseMercator(Airy1830(), britishTM()),
			datum:     newOSTN(),
			area:      area{{49.75, -9, 61.01, 2.01}},
			areaWords: "Great Britain and the Isle of Man, with the sea around them",
			refs:      britishLetters{},
		},
		{
			epsg: epsgIrish, name: "Irish Grid", country: "Ireland",
			words:     []string{"northern ireland", "tm75", "ulster"},
			ellipsoid: AiryModified(),
			proj:      newTransverseMercator(AiryModified(), tmParams{53.5, -8, 1.000035, 200000, 250000}),
			datum:     irelandHelmert(),
			area:      area{{51.39, -10.56, 55.43, -5.34}},
			areaWords: "Ireland, all of the island",
			refs:      irishLetters{},
		},
		{
			epsg: epsgITM, name: "Irish Transverse Mercator", country: "Ireland",
			words:     []string{"northern ireland", "itm", "irenet95", "ulster"},
			ellipsoid: GRS80(),
			proj:      newTransverseMercator(GRS80(), tmParams{53.5, -8, 0.99982, 600000, 750000}),
			datum:     sameDatum{nullShiftSigmaM},
			area:      area{{51.39, -10.56, 55.43, -5.34}},
			areaWords: "Ireland, all of the island",
			refs:      plainOnly{},
		},
		{
			epsg: epsgNZTM, name: "New Zealand Transverse Mercator", country: "New Zealand",
			words:     []string{"nztm", "nzgd2000", "aotearoa"},
			ellipsoid: GRS80(),
			proj:      newTransverseMercator(GRS80(), tmParams{0, 173, 0.9996, 1600000, 10000000}),
			datum:     sameDatum{nullShiftSigmaM},
			area:      area{{-47.33, 166.37, -34.1, 178.63}},
			areaWords: "New Zealand: North, South and Stewart Island",
			refs:      plainOnly{newZealand: true},
		},
	}
}

// britishTM returns the projection of the National Grid (OS guide, Annexe A).
// The shift model uses the same projection on GRS 1980.
func britishTM() tmParams { return tmParams{49, -2, 0.9996012717, 400000, -100000} }

// Lookup returns the grid with an EPSG code, or an *UnknownSystem.
func Lookup(epsg int) (*System, error) {
	if s, ok := catalogue().byCode[epsg]; ok {
		return s, nil
	}
	return nil, &UnknownSystem{EPSG: epsg}
}

// Catalogue returns every grid: the countries' own first, then UTM north and
// south, then the poles. The slice is the caller's own.
func Catalogue() []*System { return append([]*System(nil), catalogue().list...) }

// Find returns the grids whose name, country, code or search words hold every
// word of the text, in the order of the catalogue. Case does not matter; an
// empty text finds all.
func Find(text string) []*System {
	words := strings.Fields(strings.ToLower(text))
	var found []*System
	for _, s := range catalogue().list {
		if s.matches(words) {
			found = append(found, s)
		}
	}
	return found
}

func (s *System) matches(words []string) bool {
	heap := strings.ToLower(s.name+" "+s.country+" "+strings.Join(s.words, " ")) +
		" epsg:" + strconv.Itoa(s.epsg)
	for _, w := range words {
		if !strings.Contains(heap, w) {
			return false
		}
	}
	return true
}

// mustLookup is for codes that are part of this package.
func mustLookup(epsg int) *System {
	s, err := Lookup(epsg)
	if err != nil {
		panic(fmt.Sprintf("geodesy: %v", err))
	}
	return s
}
