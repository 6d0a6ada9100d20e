package geodesy

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestParseRefLettered(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		epsg int
		g    Grid
		side float64
		kind RefKind
	}{
		{"NN 123 456", 27700, Grid{E: 212300, N: 745600}, 100, RefLetters},
		{"NN123456", 27700, Grid{E: 212300, N: 745600}, 100, RefLetters},
		{"nn 123456", 27700, Grid{E: 212300, N: 745600}, 100, RefLetters},
		{"  nN\u00a0123\u2009456 ", 27700, Grid{E: 212300, N: 745600}, 100, RefLetters},
		{"NN 123, 456", 27700, Grid{E: 212300, N: 745600}, 100, RefLetters},
		{"N N 1 4", 27700, Grid{E: 210000, N: 740000}, 10000, RefLetters},
		{"NN14", 27700, Grid{E: 210000, N: 740000}, 10000, RefLetters},
		{"NN 12 45", 27700, Grid{E: 212000, N: 745000}, 1000, RefLetters},
		{"NN 1234 4567", 27700, Grid{E: 212340, N: 745670}, 10, RefLetters},
		{"NN 12345 45678", 27700, Grid{E: 212345, N: 745678}, 1, RefLetters},
		{"SV 00 00", 27700, Grid{E: 0, N: 0}, 1000, RefLetters},
		{"HP 62 13", 27700, Grid{E: 462000, N: 1213000}, 1000, RefLetters},
		{"SE 12 34", 27700, Grid{E: 412000, N: 434000}, 1000, RefLetters}, // not south and east
		{"O 159 346", 29903, Grid{E: 315900, N: 234600}, 100, RefLetters},
		{"o159346", 29903, Grid{E: 315900, N: 234600}, 100, RefLetters},
		{"N 12 34", 29903, Grid{E: 212000, N: 234000}, 1000, RefLetters},
		{"S 1234 5678", 29903, Grid{E: 212340, N: 156780}, 10, RefLetters},
		{"E 1 2", 29903, Grid{E: 410000, N: 420000}, 10000, RefLetters},
		{"33MSM8308620082", 32733, Grid{E: 183086, N: 9120082}, 1, RefMGRS},
		{"33m sm 83086 20082", 32733, Grid{E: 183086, N: 9120082}, 1, RefMGRS},
		{"33 M SM 8 2", 32733, Grid{E: 180000, N: 9120000}, 10000, RefMGRS},
		{"5QLD 212 720", 32605, Grid{E: 321200, N: 2372000}, 100, RefMGRS},
		{"05QLD 212 720", 32605, Grid{E: 321200, N: 2372000}, 100, RefMGRS},
		{"31VDG 0 0", 32631, Grid{E: 400000, N: 6600000}, 10000, RefMGRS},
		{"ZAB 00 00", 5041, Grid{E: 2000000, N: 1400000}, 1000, RefMGRS},
		{"bab12345 12345", 5042, Grid{E: 2012345, N: 912345}, 1, RefMGRS},
	} {
		t.Run(c.text, func(t *testing.T) {
			r, err := ParseRef(c.text, RefContext{})
			if err != nil {
				t.Fatal(err)
			}
			if r.System.EPSG() != c.epsg || r.Grid != c.g || math.Abs(r.SquareM-c.side) > 1e-9 || r.Kind != c.kind || !r.LettersGiven {
				t.Errorf("got EPSG:%d %v side %g %v given %v, want %+v",
					r.System.EPSG(), r.Grid, r.SquareM, r.Kind, r.LettersGiven, c)
			}
		})
	}
}

func TestParseRefPlain(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		epsg int
		want Grid
	}{
		{"651409 313177", 27700, Grid{E: 651409, N: 313177}},
		{"651409.903, 313177.27", 27700, Grid{E: 651409.903, N: 313177.27}},
		{"651409,313177", 27700, Grid{E: 651409, N: 313177}},
		{"651409,903 313177,270", 27700, Grid{E: 651409.903, N: 313177.27}},
		{"E 651409 N 313177", 27700, Grid{E: 651409, N: 313177}},
		{"E651409, N313177", 27700, Grid{E: 651409, N: 313177}},
		{"651409E 313177N", 27700, Grid{E: 651409, N: 313177}},
		{"91492, 11318", 27700, Grid{E: 91492, N: 11318}}, // five figures each, near the false origin
		{"E 91492 N 11318", 27700, Grid{E: 91492, N: 11318}},
		{"027455 743150", 27700, Grid{E: 27455, N: 743150}},
		{"-12000 900000", 27700, Grid{E: -12000, N: 900000}},
		{"709885.081 736167.699", 2157, Grid{E: 709885.081, N: 736167.699}},
		{"1748735 5427921", 2193, Grid{E: 1748735, N: 5427921}},
		{"500000 0", 32631, Grid{E: 500000, N: 0}},
		{"500000 10000000", 32731, Grid{E: 500000, N: 10000000}},
	} {
		r, err := ParseRef(c.text, RefContext{System: mustLookup(c.epsg)})
		if err != nil || r.Grid != c.want || r.SquareM != 0 || r.Kind != RefPlain || r.System.EPSG() != c.epsg || !r.LettersGiven {
			t.Errorf("%q: got %+v, %v", c.text, r, err)
		}
	}
}

func TestParseRefLatLon(t *testing.T) {
	t.Parallel()
	const lat, lon = 57.5, -4.25
	for _, text := range []string{
		"57.5N 4.25W", "57.5 N, 4.25 W", "N57.5 W4.25", "N 57.5, W 4.25", "4.25W 57.5N",
		"57.5°N 4.25°W", "57.5° -4.25°", "57.5°, -4.25°", "57.5°,−4.25°",
		"latlon: 57.5 -4.25", "LatLon:57.5,-4.25", "latlon: 57 30 -4 15",
		"57°30'N 4°15'W", "57°30′00″N 4°15′00″W", "57° 30' 0\" N, 4° 15' 0\" W",
		"57 30 00 N 4 15 00 W", "57º30’00”N 4º15’00”W", "57°30.0'N 4°15.0'W", "57°30' -4°15'",
		"57°30'00'' N 4°15'00'' W",
	} {
		r, err := ParseRef(text, RefContext{})
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		ll, _, err := r.System.ToWGS84(r.Grid)
		if err != nil || r.Kind != RefLatLon || r.System.EPSG() != 27700 || r.SquareM != 0 {
			t.Errorf("%q: got %+v, %v", text, r, err)
		}
		near(t, text+" latitude", ll.Lat.Deg(), lat, 1e-10)
		near(t, text+" longitude", ll.Lon.Deg(), lon, 1e-10)
	}
	for _, c := range []struct {
		text     string
		lat, lon float64
	}{
		{"0N 180E", 0, 180},
		{"0°N 180°W", 0, -180},
		{"90°N 0°E", 90, 0},
		{"-0°30' 1°E", 0, 0}, // one letter: refused, see below
		{"45°30'36.5\"S 168°0'1\"E", -45.5101388888889, 168.000277777778},
	} {
		ll, err := readLatLon(normalRef(c.text))
		if strings.HasPrefix(c.text, "-0") {
			if err == nil {
				t.Errorf("%q: read as %v", c.text, ll)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		near(t, c.text, ll.Lat.Deg(), c.lat, 1e-12)
		near(t, c.text, ll.Lon.Deg(), c.lon, 1e-12)
	}
}

// A sheet that reaches over the equator reads the references of both sides.
func TestParseRefAcrossEquator(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		epsg int
		want Grid
	}{
		{"31N EA 1 1", 32731, Grid{E: 510000, N: 10010000}},
		{"31M EV 1 9", 32631, Grid{E: 510000, N: -10000}},
	} {
		r, err := ParseRef(c.text, RefContext{System: mustLookup(c.epsg)})
		if err != nil || r.Grid != c.want || r.System.EPSG() != c.epsg {
			t.Errorf("%s: got %+v, %v, want %v", c.text, r, err, c.want)
		}
	}
	if r, err := ParseRef("31U DQ 1 1", RefContext{System: mustLookup(32731)}); err == nil {
		t.Errorf("far from the equator: got %+v", r)
	}
}

// Letters that are missing come from the sheet, and the answer says so.
func TestParseRefMissingLetters(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		text  string
		epsg  int
		near  Grid
		want  Grid
		given bool
		side  float64
	}{
		{"three and three", "123 456", 27700, Grid{E: 215000, N: 748000}, Grid{E: 212300, N: 745600}, false, 100},
		{"in one", "123456", 27700, Grid{E: 215000, N: 748000}, Grid{E: 212300, N: 745600}, false, 100},
		{"over a square's border", "995 010", 27700, Grid{E: 201000, N: 701000}, Grid{E: 199500, N: 701000}, false, 100},
		{"five figures far from the plain reading", "12345 45678", 27700, Grid{E: 215000, N: 748000}, Grid{E: 212345, N: 745678}, false, 1},
		{"five figures near the plain reading", "91492 11318", 27700, Grid{E: 90000, N: 10000}, Grid{E: 91492, N: 11318}, true, 0},
		{"six figures are easting and northing", "212345 745678", 27700, Grid{E: 215000, N: 748000}, Grid{E: 212345, N: 745678}, true, 0},
		{"Ireland", "159 346", 29903, Grid{E: 310000, N: 230000}, Grid{E: 315900, N: 234600}, false, 100},
		{"UTM", "830 200", 32733, Grid{E: 190000, N: 9130000}, Grid{E: 183000, N: 9120000}, false, 100},
		{"UTM square without its zone", "SM 830 200", 32733, Grid{E: 190000, N: 9130000}, Grid{E: 183000, N: 9120000}, true, 100},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := ParseRef(c.text, RefContext{System: mustLookup(c.epsg), Near: &c.near})
			if err != nil {
				t.Fatal(err)
			}
			if r.Grid != c.want || r.LettersGiven != c.given || math.Abs(r.SquareM-c.side) > 1e-9 {
				t.Errorf("got %+v, want %v given %v side %g", r, c.want, c.given, c.side)
			}
		})
	}
}

func TestParseRefRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		text  string
		epsg  int // 0: none
		says  string
		offer string
	}{
		{"empty", " ", 27700, "there is no reference", ""},
		{"too long", strings.Repeat("N", 1000), 27700, "too long", ""},
		{"words", "the cairn", 27700, "not the beginning of a reference", ""},
		{"no digits", "NN", 27700, "no digits", ""},
		{"odd figures", "NN 12345", 27700, "cannot be split", ""},
		{"unequal figures", "NN 123 45", 27700, "easting has 3 digits and the northing 2", ""},
		{"three groups", "NN 12 34 56", 27700, "3 groups", ""},
		{"too many figures", "NN 123456 123456", 27700, "6 digits each for easting and northing", ""},
		{"a point after letters", "NN 12.3 45.6", 27700, "only digits can stand after the letters, not", ""},
		{"letters between", "NN 12X45", 27700, "alternate", ""},
		{"false letter I", "NI 123 456", 27700, "letter I is never used", ""},
		{"false letter I in Ireland", "I 123 456", 29903, "letter I is never used", ""},
		{"outside the lettered squares", "AA 123 456", 27700, "not on the British National Grid", ""},
		{"Irish letter on a British sheet", "C 123 456", 27700, "C belongs to the Irish Grid", ""},
		{"letters of no grid on an Irish sheet", "OO 1 1", 29903, "neither on the Irish Grid nor on the British", ""},
		{"lettered sea far from the area", "JM 99 99", 27700, "outside the area", ""},
		{"a square far outside its zone", "31U AA 0 0", 32631, "square 31UAA is outside the area", ""},
		{"British letters on an Irish sheet", "NN 123 456", 29903, "NN belongs to the British National Grid", ""},
		{"Irish letter on ITM", "O 159 346", 2157, "O belongs to the Irish Grid", ""},
		{"MGRS on a British sheet", "30U XB 123 456", 27700, "30UXB belongs to UTM zone 30 north, but the sheet is on the British National Grid", ""},
		{"MGRS of another zone", "31U DQ 123 456", 32630, "UTM zone 31 north", ""},
		{"British letters on a UTM sheet", "NN 123 456", 32630, "zone and band are missing", ""},
		{"letters missing", "123 456", 27700, "letters are missing", ""},
		{"zone 61", "61N AA 1 1", 0, "zone 61 does not exist", ""},
		{"band O", "30O XB 1 1", 0, "O is not a UTM band", ""},
		{"32X", "32X MG 1 1", 0, "32X does not exist", ""},
		{"a column of another zone", "30U AB 1 1", 0, "no square AB", ""},
		{"a row that misses the band", "33M SA 1 1", 0, "in 33M: check the letters", ""},
		{"zone without square", "30U 123 456", 0, "three letters", ""},
		{"a zone of three figures", "300U XB 1 1", 0, "in front of the letters", ""},
		{"UPS row out of range", "ZAZ 1 1", 0, "no square around either pole", ""},
		{"three letters", "UXB 1 1", 0, "need a UTM zone", ""},
		{"New Zealand short", "123 456", 2193, "repeat every 100 km", ""},
		{"New Zealand short in one", "123456", 2193, "repeat every 100 km", ""},
		{"New Zealand with a sheet number", "BQ31 123 456", 2193, "repeat every 100 km", ""},
		{"British letters in New Zealand", "NN 123 456", 2193, "NN belongs to the British National Grid", ""},
		{"no grid known", "212345 745678", 0, "choose the grid first", ""},
		{"one number", "212345", 2157, "only one number", ""},
		{"run together", "651409313177", 27700, "only one number", "651409 313177"},
		{"three numbers", "1 2 3", 27700, "3 numbers", ""},
		{"lat/lon without a mark", "57.5 -4.25", 27700, "latitude and longitude need", "latlon: 57.5, -4.25"},
		{"lat/lon without a mark or grid", "57.5, -4.25", 0, "latitude and longitude need", "latlon: 57.5, -4.25"},
		{"outside the grid", "3000000 300000", 27700, "outside the area of the British National Grid", ""},
		{"northing first", "5427921 1748735", 2193, "outside the area", "E 1748735 N 5427921"},
		{"NaN", "NaN NaN", 27700, "not the beginning of a reference", ""},
		{"Inf", "Inf 5", 27700, "cannot be split", ""},
		{"huge", "1e99 5", 27700, "three letters", ""},
		{"huge digits", strings.Repeat("9", 50) + " 5", 27700, "up to 9 digits", ""},
		{"nonsense", "?!", 27700, "not understood", ""},
		{"latitude 999", "latlon: 999 0", 0, "latitude 999° is outside", ""},
		{"longitude 181", "latlon: 50 181", 0, "longitude 181° is outside", ""},
		{"two latitudes", "57N 4S", 27700, "alternate", ""},
		{"two latitudes, marked", "57°N 4°S", 27700, "one latitude with N or S", ""},
		{"one hemisphere letter", "57° 4°W", 27700, "only one hemisphere", ""},
		{"sign and letter", "57°N -4°W", 27700, "a sign and a hemisphere letter", ""},
		{"minutes of 60", "57°60'N 4°W", 27700, "not an angle", ""},
		{"fraction before minutes", "57.5°30'N 4°W", 27700, "not an angle", ""},
		{"lat/lon of another continent", "10°S 150°E", 27700, "far outside the area of the British National Grid", ""},
		{"half a lat/lon", "57°", 27700, "not understood", ""},
		{"nothing after latlon:", "latlon:", 27700, "not understood", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			ctx := RefContext{}
			if c.epsg != 0 {
				ctx.System = mustLookup(c.epsg)
			}
			r, err := ParseRef(c.text, ctx)
			var bad *RefError
			if !errors.As(err, &bad) {
				t.Fatalf("got %+v, %v, want a RefError", r, err)
			}
			if !strings.Contains(bad.Reason, c.says) || strings.Join(bad.Offers, " or ") != c.offer || bad.Reason == "" {
				t.Errorf("got reason %q, offer %q, want %q, %q", bad.Reason, bad.Offers, c.says, c.offer)
			}
			if _, reason := utf8.DecodeRuneInString(bad.Reason); !strings.HasSuffix(err.Error(), bad.Reason[reason:]) {
				t.Errorf("the error %q does not give its reason", err)
			}
		})
	}
}

// FuzzParseRef: no text may panic, and what is accepted lies on a grid.
func FuzzParseRef(f *testing.F) {
	for _, seed := range []string{
		"NN 123 456", "O159346", "33MSM8308620082", "ZAB 1 1", "651409.9 313177", "E 1 N 2",
		"57°30'00\"N 4°15'W", "latlon: 57.5,-4.25", "123 456", "BQ31 123 456", "−1,5 2,5", "°°", "N", "1N2E",
	} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(3))
	}
	sheets := []RefContext{{}}
	for _, epsg := range []int{27700, 29903, 2157, 2193, 32630, 32733, 5041} {
		s := mustLookup(epsg)
		b := s.area[0]
		g, _, err := s.Project(DegLatLon((b.South+b.North)/2, (b.West+b.East)/2))
		if err != nil {
			f.Fatal(err)
		}
		sheets = append(sheets, RefContext{System: s}, RefContext{System: s, Near: &g})
	}
	f.Fuzz(func(t *testing.T, text string, sheet uint8) {
		ctx := sheets[int(sheet)%len(sheets)]
		r, err := ParseRef(text, ctx)
		if err != nil {
			var bad *RefError
			if !errors.As(err, &bad) || bad.Reason == "" {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if r.System == nil || ctx.System != nil && r.System != ctx.System {
			t.Fatalf("%q on %v: grid %v", text, ctx.System, r.System)
		}
		if _, _, err := r.System.ToWGS84(r.Grid); err != nil || !(r.SquareM >= 0) {
			t.Fatalf("%q: %+v: %v", text, r, err)
		}
	})
}

// What a refusal tells people to type can be read, on the grid it is told for.
func TestExamplesAreRead(t *testing.T) {
	for _, s := range []*System{nil, mustLookup(epsgBritain), mustLookup(epsgIrish), UTM(1, true), UTM(30, true), UTM(32, false), UTM(60, false), UTM(0, true), UTM(0, false)} {
		if _, err := ParseRef(exampleRef(s), RefContext{System: s}); err != nil {
			t.Errorf("%q: %v", exampleRef(s), err)
		}
	}
}
