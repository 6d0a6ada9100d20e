package geodesy

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// Codes of the catalogue's single grids. 5041 and 5042 are UPS with easting first; 32661
// and 32761 are the same grids with northing first in the EPSG dataset.
const (
	epsgBritain  = 27700
	epsgIrish    = 29903
	epsgITM      = 2157
	epsgNZTM     = 2193
	epsgUPSNorth = 5041
	epsgUPSSouth = 5042

	epsgUPSNorthFirst = 32661
	epsgUPSSouthFirst = 32761
)

// index is the whole catalogue, in the order it is offered, and by code.
type index struct {
	list   []*System
	byCode map[int]*System
}

// catalogue builds the index once.
var catalogue = sync.OnceValue(buildCatalogue)

func buildCatalogue() *index {
	x := &index{byCode: map[int]*System{}}
	for _, list := range [][]*System{
		islandGrids(), europeanGrids(), etrsZones(), norwayZones(), japanZones(),
		australianZones(), nad83Zones(), nad27Zones(), utmZones(), worldGrids(),
	} {
		for _, s := range list {
			s.code = EPSG(s.epsg)
			x.list = append(x.list, s)
			x.byCode[s.epsg] = s
		}
	}
	x.byCode[epsgUPSNorthFirst], x.byCode[epsgUPSSouthFirst] = x.byCode[epsgUPSNorth], x.byCode[epsgUPSSouth]
	return x
}

// Lookup returns the grid with a code. It parses a definition at each call, which
// is slow: keep the grid for many positions. The error is an *UnknownSystem or, for
// an unusable definition, a *BadDefinition.
func Lookup(c Code) (*System, error) {
	if !c.Defined() {
		return byNumber(c.EPSG())
	}
	return Define(string(c))
}

func byNumber(epsg int) (*System, error) {
	if s, ok := catalogue().byCode[epsg]; ok {
		return s, nil
	}
	return nil, &UnknownSystem{EPSG: epsg}
}

// Catalogue returns every grid: the countries' own first, then the zones of
// continents, then UTM north and south, the poles, and the grids of the whole
// world. The slice is the caller's own.
func Catalogue() []*System { return append([]*System(nil), catalogue().list...) }

// Find returns the grids whose name, country, code or search words hold every
// word of the text, in the order of the catalogue. Case does not matter; an
// empty text finds all. Where nothing is found, a word is also cut before its
// digits and at a slash: "utm30" finds what "utm 30" does.
func Find(text string) []*System {
	text = strings.ToLower(text)
	if found := holding(strings.Fields(text)); len(found) > 0 {
		return found
	}
	return holding(strings.Fields(cutAtDigits(text)))
}

// cutAtDigits puts spaces in place of slashes and between a letter and a digit
// after it.
func cutAtDigits(text string) string {
	var out strings.Builder
	last := ' '
	for _, r := range text {
		if unicode.IsLetter(last) && unicode.IsDigit(r) {
			out.WriteRune(' ')
		}
		if r == '/' {
			r = ' '
		}
		out.WriteRune(r)
		last = r
	}
	return out.String()
}

func holding(words []string) []*System {
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
	s, err := byNumber(epsg)
	if err != nil {
		panic(fmt.Sprintf("geodesy: %v", err))
	}
	return s
}
