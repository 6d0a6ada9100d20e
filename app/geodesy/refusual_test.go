package geodesy

import (
	"math"
	"strings"
	"testing"
)

// TestUsualTyping holds the ways in which people type references, so that
// refusing slips never makes a nuisance of them. Each row is one position, and
// its texts are parted by bars.
func TestUsualTyping(t *testing.T) {
	t.Parallel()
	near := func(e, n float64) *Grid { return &Grid{E: e, N: n} }
	latlon := func(epsg int, lat, lon float64) Grid {
		g, _, _, err := mustLookup(epsg).FromWGS84(DegLatLon(lat, lon))
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	for _, c := range []struct {
		epsg  int
		near  *Grid
		want  Grid
		texts string
	}{
		{27700, nil, Grid{E: 212300, N: 745600}, "NN 123 456|NN123456|nn123456|nn 123 456|Nn 123456|NN 123, 456|NN, 123, 456|NN 123  456|N N 123 456|  NN 123 456  |NN\t123\t456|NN,123 456|nn123 456"},
		{27700, nil, Grid{E: 212000, N: 745000}, "NN 12 45|NN1245|nn 1245|nn12 45|NN 12, 45"},
		{27700, nil, Grid{E: 210000, N: 740000}, "NN 1 4|NN14|nn 14"},
		{27700, nil, Grid{E: 212340, N: 745670}, "NN 1234 4567|NN12344567|nn 12344567|NN 1234, 4567"},
		{27700, nil, Grid{E: 212345, N: 745678}, "NN 12345 45678|NN1234545678|nn 12345 45678|NN 12345, 45678|212345 745678|212345, 745678|212345,745678|212345  745678|E 212345 N 745678|E212345 N745678|E212345, N745678|212345E 745678N|212345 E 745678 N|e 212345 n 745678|e212345n745678|E 212345, N 745678|+212345 +745678"},
		{27700, nil, Grid{E: 212345.6, N: 745678.9}, "212345.6 745678.9|212345.6, 745678.9|212345.6,745678.9|E 212345.6 N 745678.9|212345,6 745678,9|212345.60 745678.90|E212345.6, N745678.9|212345.6E 745678.9N"},
		{27700, nil, Grid{E: 27455, N: 743150}, "E 27455 N 743150|027455 743150|27455, 743150|27455,743150|E27455 N743150|E 027455 N 743150|NL 27455 43150|NL2745543150|027455, 743150|27455E 743150N"},
		{27700, nil, Grid{E: 51000, N: 799000}, "51000 799000|51000, 799000|NL 51000 99000"},
		{27700, near(30_000, 740_000), Grid{E: 27455, N: 743150}, "27455 743150|027455 743150|NL 27455 43150|27455  743150|27455, 743150"},
		{27700, near(215_000, 748_000), Grid{E: 212300, N: 745600}, "123 456|123456|NN 123 456|123, 456|123,456|212300 745600|E 212300 N 745600|212300, 745600|123  456"},
		{27700, near(215_000, 748_000), Grid{E: 212345, N: 745678}, "12345 45678|1234545678|212345 745678|12345, 45678"},
		{27700, near(215_000, 748_000), Grid{E: 212000, N: 745000}, "12 45|1245|12, 45|NN1245"},
		{27700, nil, Grid{E: 91492, N: 11318}, "E 91492 N 11318|091492 011318|91492, 11318|SV 91492 11318|SV9149211318"},
		{27700, near(90_000, 10_000), Grid{E: 91492, N: 11318}, "91492 11318|91492,11318|SV 91492 11318"},
		{29903, nil, Grid{E: 315900, N: 234600}, "O 159 346|O159346|o 159346|o159 346|O 159, 346|315900 234600|E 315900 N 234600|315900, 234600"},
		{29903, near(310_000, 230_000), Grid{E: 315900, N: 234600}, "159 346|159346|O159346"},
		{2157, nil, Grid{E: 709885, N: 736168}, "709885 736168|709885, 736168|709885,736168|E 709885 N 736168|709885E 736168N|709885.0 736168.0"},
		{2193, nil, Grid{E: 1748735, N: 5427921}, "1748735 5427921|1748735, 5427921|E 1748735 N 5427921|1748735,5427921|E1748735 N5427921"},
		{2056, nil, Grid{E: 2600000, N: 1200000}, "2600000 1200000|2600000, 1200000|2600000.0 1200000.0|E 2600000 N 1200000"},
		{32631, nil, Grid{E: 482000, N: 6089000}, "482000 6089000|482000, 6089000|0482000 6089000|482000E 6089000N|E 482000 N 6089000|31U DA 82000 89000|31UDA8200089000|31u da 82000 89000|31U DA 8200 8900|31UDA 82 89|31U DA 820 890|31 U DA 820 890|482000.0 6089000.0|482000mE 6089000mN|482000m E 6089000m N|482000 mE, 6089000 mN|482000m.E. 6089000m.N.|Easting 482000 Northing 6089000|E: 482000 N: 6089000|Easting: 482000, Northing: 6089000|E=482000 N=6089000|⁴82000 ⁶⁰89000"},
		{32630, nil, Grid{E: 480000, N: 6091000}, "30U 480000 6091000|30 U 480000 6091000|30u 480000 6091000|30U 0480000 6091000|30U 480000, 6091000|30U480000 6091000|30U 480000E 6091000N|30U 480000mE 6091000mN|30U E 480000 N 6091000|30U 480000.0 6091000.0|30N 480000 6091000|30 North 480000 6091000|30U Easting 480000 Northing 6091000"},
		{32630, near(480_000, 6_090_000), Grid{E: 480000, N: 6091000}, "30U 480000 6091000|30N 480000 6091000"},
		{25830, nil, Grid{E: 480000, N: 6091000}, "30U 480000 6091000|30N 480000 6091000"},
		{32733, nil, Grid{E: 281500, N: 6244000}, "33H 281500 6244000|33S 281500 6244000|33 South 281500 6244000"},
		{32631, near(480_000, 6_090_000), Grid{E: 482000, N: 6089000}, "DA 820 890|DA 82 89|da820890|820 890|82 89|482000 6089000|31U DA 820 890"},
		{32733, nil, Grid{E: 183086, N: 9120082}, "33MSM8308620082|33M SM 83086 20082|33m sm 83086 20082|183086 9120082|E 183086 N 9120082"},
		{32605, nil, Grid{E: 321200, N: 2372000}, "5QLD212720|05QLD212720|5Q LD 212 720|05Q LD 212 720|5q ld 212 720"},
		{32631, nil, Grid{E: 500000, N: 0}, "500000 0|500000, 0|E 500000 N 0"},
		{27700, nil, latlon(27700, 57.5, -4.25), "57.5N 4.25W|57.5 N, 4.25 W|N57.5 W4.25|N 57.5, W 4.25|4.25W 57.5N|57.5°N 4.25°W|57.5° -4.25°|57.5°, -4.25°|57.5°,-4.25°|latlon: 57.5 -4.25|latlon:57.5,-4.25|LatLon: 57.5, -4.25|57.5n 4.25w|57.5N, 4.25W|57.5N,4.25W|57.50N 4.25W|57.500°N, 4.250°W|57.5 °N 4.25 °W|57.5ºN 4.25ºW|N57.5° W4.25°|57.5°N, 4.25°W|57.5N4.25W|57.5°N4.25°W"},
		{27700, nil, latlon(27700, 57.5, -4.25), "57°30'N 4°15'W|57°30′N 4°15′W|57° 30' N 4° 15' W|57°30'N, 4°15'W|57°30' -4°15'|57 30 N 4 15 W|N 57 30 W 4 15|57°30N 4°15W|57°30.0'N 4°15.0'W|57 30.0 N 4 15.0 W|N57 30.000 W4 15.000|latlon: 57 30, -4 15|57° 30.00' N, 4° 15.00' W|N 57° 30.000' W 4° 15.000'|N57°30' W4°15'|Lat 57°30'N Long 4°15'W|Lat. 57°30' N, Long. 4°15' W|Latitude 57°30' North, Longitude 4°15' West|Longitude: 4°15' W Latitude: 57°30' N|lat 57.5 lon -4.25|lon=-4.25 lat=57.5|57°30' north 4°15' west|57°30’N 4°15’W|57°30'N4°15'W"},
		{27700, nil, latlon(27700, 57.5, -4.25), "57°30'00\"N 4°15'00\"W|57°30′00″N 4°15′00″W|57° 30' 0\" N, 4° 15' 0\" W|57 30 00 N 4 15 00 W|57º30’00”N 4º15’00”W|57°30'00'' N 4°15'00'' W|57°30'00.0\"N 4°15'00.0\"W|N57°30'00\" W4°15'00\"|57°30'00N 4°15'00W|N 57 30 00 W 4 15 00|57° 30' 00\" -4° 15' 00\"|4°15'00\"W 57°30'00\"N"},
		{2193, nil, latlon(2193, -41.5, 174.25), "41.5S 174.25E|41.5°S 174.25°E|41°30'S 174°15'E|41 30 S 174 15 E|-41.5°, 174.25°|latlon: -41.5, 174.25|S41.5 E174.25|41°30'00\"S 174°15'00\"E|latlon: -41.50 174.25|S 41° 30.0' E 174° 15.0'"},
	} {
		for text := range strings.SplitSeq(c.texts, "|") {
			s := mustLookup(c.epsg)
			r, err := ParseRef(text, RefContext{System: s, Near: c.near})
			if err != nil {
				t.Errorf("%q on %v: %v", text, s, err)
				continue
			}
			if math.Hypot(r.Grid.E-c.want.E, r.Grid.N-c.want.N) > 1e-6 || r.System != s {
				t.Errorf("%q on %v: got %v, want %v", text, s, r.Grid, c.want)
			}
		}
	}
}

// TestTwoReadingsAreAsked holds texts that could mean two positions: each is refused,
// and what is offered is read.
func TestTwoReadingsAreAsked(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		epsg   int
		near   *Grid
		offers string
	}{
		{"212,300 745,600", 27700, nil, "E 212300 N 745600|E 212.300 N 745.600"},
		{"12,345 67,890", 27700, nil, "E 12345 N 67890"},
		{"1,748,735 5,427,921", 2193, nil, "E 1748735 N 5427921"},
		{"NN 123,456", 27700, nil, "NN 123 456"},
		{"NN123,456", 27700, nil, "NN 123 456"},
		{"NN 12,345 45,678", 27700, nil, "NN 12345 45678"},
		{"30U XB 123,456", 32630, nil, "30UXB 123 456"},
		{"482 6089", 32631, nil, "E 482000 N 6089000"},
		{"⁴82 ⁶⁰89", 32631, nil, "E 482000 N 6089000"},
		{"482mE 6089mN", 32631, nil, "E 482000 N 6089000"},
		{"482.5 6089.1", 32631, nil, "E 482500 N 6089100"},
		{"E 482 N 6089", 32631, nil, "E 482000 N 6089000"},
		{"709 736", 2157, nil, "E 709000 N 736000"},
		{"212 745", 27700, &Grid{E: 212000, N: 745000}, "NN 212 745|E 212000 N 745000"},
		{"12345 712345", 27700, nil, "E 12345 N 712345|E 123457 N 12345"},
		{"28 44", 0, nil, "latlon: 28, 44"},
		{"28 44", 2157, nil, ""},
		{"28 44", 27700, nil, ""},
		{"12 3456", 27700, nil, ""},
		{"57.5 -4.25", 27700, nil, "latlon: 57.5, -4.25"},
		{"5427921 1748735", 2193, nil, "E 1748735 N 5427921"},
		{"5427921 174873", 2193, nil, ""},
		{"170000 6200000", 32631, nil, "E 170000 N 6200000"},
		{"50000 04649776", 32630, nil, "E 50000 N 04649776"},
		{"56°10''N 4°30'W", 27700, nil, "56°10'N 4°30'W|56°00'10\"N 4°30'W"},
		{"56°10\"N 4°30\"W", 27700, nil, "56°10'N 4°30'W|56°00'10\"N 4°00'30\"W"},
		{"57 5 30 N 4 15 00 W", 27700, nil, "57°5'30\"N 4°15'00\"W"},
		{"latlon: 52.5 1.25", 27700, nil, "latlon: 52.5, 1.25"},
		{"57 30 N 4 15 30 W", 27700, nil, "57°30'N 4°15'30\"W"},
	} {
		ctx := RefContext{Near: c.near}
		if c.epsg != 0 {
			ctx.System = mustLookup(c.epsg)
		}
		r, err := ParseRef(c.text, ctx)
		bad, ok := err.(*RefError)
		if !ok {
			t.Errorf("%q: got %+v, want a refusal", c.text, r)
			continue
		}
		if got := strings.Join(bad.Offers, "|"); got != c.offers {
			t.Errorf("%q: offers %q, want %q: %v", c.text, got, c.offers, err)
		}
		for _, o := range bad.Offers {
			if _, err := ParseRef(o, ctx); err != nil {
				t.Errorf("%q: the offer %q is refused: %v", c.text, o, err)
			}
		}
	}
}

// Latitude and longitude are as exact as their last figure, and exact where they are
// lines as maps print them.
func TestLatLonIsRounded(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text    string
		stepM   float64
		onLines bool
	}{
		{"56.8N 4.1W", 11_170, false},
		{"56.80N 4.10W", 1117, false},
		{"56°48'N 4°06'W", 1861.7, true},
		{"56 48 N 4 06 W", 1861.7, true},
		{"56°48.5'N 4°06'W", 1861.7, true},
		{"56°48.3'N 4°06.0'W", 186.17, false},
		{"56°48'30\"N 4°06'00\"W", 31.03, true},
		{"56°48'31\"N 4°06'00\"W", 31.03, false},
		{"latlon: 56.81234, -4.12345", 1.117, false},
	} {
		r, err := ParseRef(c.text, RefContext{System: mustLookup(27700)})
		if err != nil {
			t.Fatal(err)
		}
		if _, sigma := r.Centre(); math.Abs(sigma*math.Sqrt(12)-c.stepM) > c.stepM/100 {
			t.Errorf("%q: σ %.2f m, want %.2f", c.text, sigma, c.stepM/math.Sqrt(12))
		}
		if r.OnLines != c.onLines || (r.LineSigma() == 0) != c.onLines {
			t.Errorf("%q: on lines %v with σ %.2f m, want %v", c.text, r.OnLines, r.LineSigma(), c.onLines)
		}
	}
}
