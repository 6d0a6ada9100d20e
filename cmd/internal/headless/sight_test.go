package headless

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

const onTheDay = "2026-11-25"

func sight(t *testing.T, grid, from, to string, more ...string) outcome {
	t.Helper()
	return run(t, "", append([]string{"sight", "--grid", grid, "--date", onTheDay, "--from", from, "--to", to}, more...)...)
}

// sightKeys are the keys of the command in their order.
var sightKeys = []string{
	"grid_bearing_deg", "grid_bearing_deg_sigma",
	"true_bearing_deg", "true_bearing_deg_sigma",
	"magnetic_bearing_deg", "magnetic_bearing_deg_sigma",
	"back_grid_bearing_deg", "back_grid_bearing_deg_sigma",
	"back_magnetic_bearing_deg", "back_magnetic_bearing_deg_sigma",
	"convergence_deg", "convergence_deg_sigma",
	"declination_deg", "declination_deg_sigma",
	"grid_magnetic_angle_deg", "grid_magnetic_angle_deg_sigma",
	"point_scale", "point_scale_sigma",
	"grid_distance_m", "grid_distance_m_sigma",
	"ground_distance_m", "ground_distance_m_sigma",
	"sixteen_point", "datum_shift", "cautions",
}

// TestSightKeys: every key, once, in order, and the signs of the house close:
// true = grid + γ, GMA = D − γ, magnetic = grid − GMA, back = grid ± 180.
func TestSightKeys(t *testing.T) {
	t.Parallel()
	got := sight(t, "EPSG:27700", "220000 772000", "213000 758000", "--json")
	wantCode(t, got, 0)
	decoder := json.NewDecoder(strings.NewReader(got.out))
	var keys []string
	for depth := 0; ; {
		token, err := decoder.Token()
		if err != nil {
			break
		}
		switch v := token.(type) {
		case json.Delim:
			if v == '{' || v == '[' {
				depth++
			} else {
				depth--
			}
		case string:
			if depth == 1 && v != "south-south-west" && v != "OSTN15" {
				keys = append(keys, v)
			}
		}
	}
	if strings.Join(keys, " ") != strings.Join(sightKeys, " ") {
		t.Errorf("keys: got %v, want %v", keys, sightKeys)
	}
	v := func(key string) float64 { return got.object(t)[key].(float64) }
	turn := func(deg float64) float64 { return math.Mod(deg+720, 360) }
	wantNear(t, "true", v("true_bearing_deg"), turn(v("grid_bearing_deg")+v("convergence_deg")), 1e-9)
	wantNear(t, "GMA", v("grid_magnetic_angle_deg"), v("declination_deg")-v("convergence_deg"), 1e-9)
	wantNear(t, "magnetic", v("magnetic_bearing_deg"), turn(v("grid_bearing_deg")-v("grid_magnetic_angle_deg")), 1e-9)
	wantNear(t, "back", v("back_grid_bearing_deg"), turn(v("grid_bearing_deg")+180), 1e-9)
	if s := v("grid_bearing_deg_sigma"); s != 0 {
		t.Errorf("plain metres have no uncertainty: got σ %v°", s)
	}
	// The far end's own figures: reading from there gives this back bearing.
	far := sight(t, "EPSG:27700", "213000 758000", "220000 772000", "--json").object(t)
	wantNear(t, "back magnetic", v("back_magnetic_bearing_deg"), far["magnetic_bearing_deg"].(float64), 1e-9)
}

// TestSightRouteCard: rows 1 and 3 of a published route card
// (outdoorleaderonline.org, table 3.1): 220772 to 213758 and 195740 to 190725.
// The straight lines of the printed squares are dE −700 dN −1400: 1565 m on
// 206.565°, and dE −500 dN −1500: 1581 m on 198.435°. Both ends are squares of
// 100 m, so σ is 100/√12 a coordinate, √2 of that for the difference.
func TestSightRouteCard(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to                string
		bearing, distance, near float64
		point                   string
	}{
		{"NN 220 772", "NN 213 758", 206.5650512, 1565.2476, 1e-4, "south-south-west"},
		{"NN195740", "190725", 198.4349488, 1581.1388, 1e-4, "south-south-west"},
		{"NN 190 725", "NN 195 740", 18.4349488, 1581.1388, 1e-4, "north-north-east"},
	} {
		got := sight(t, "EPSG:27700", c.from, c.to, "--json")
		wantCode(t, got, 0)
		o := got.object(t)
		v := func(key string) float64 { return o[key].(float64) }
		wantNear(t, c.to+" bearing", v("grid_bearing_deg"), c.bearing, 1e-6)
		wantNear(t, c.to+" distance", v("grid_distance_m"), c.distance, c.near)
		sigma := 100 / math.Sqrt(12) * math.Sqrt2
		wantNear(t, c.to+" σ of the distance", v("grid_distance_m_sigma"), sigma, 1e-6)
		wantNear(t, c.to+" σ of the bearing", v("grid_bearing_deg_sigma"), sigma/c.distance*180/math.Pi, 1e-5)
		d := v("declination_deg_sigma")
		wantNear(t, c.to+" σ of magnetic", v("magnetic_bearing_deg_sigma"), math.Hypot(v("grid_bearing_deg_sigma"), d), 1e-9)
		if o["sixteen_point"] != c.point {
			t.Errorf("%s: point got %v, want %s", c.to, o["sixteen_point"], c.point)
		}
	}
	supplied := sight(t, "EPSG:27700", "NN195740", "190725")
	if !strings.Contains(supplied.err, "read as NN 190 725") || !strings.Contains(supplied.out, "read as NN 190 725") {
		t.Errorf("supplied letters: got %q and %q, want them said in both", supplied.out, supplied.err)
	}
}

func TestSightTable(t *testing.T) {
	t.Parallel()
	got := sight(t, "EPSG:27700", "NN 220 772", "NN 213 758")
	wantCode(t, got, 0)
	const want = `from                 NN 220 772: 222050.0 E, 777250.0 N on British National Grid (EPSG:27700) (centre of a square of 100 m)
to                   NN 213 758: 221350.0 E, 775850.0 N on British National Grid (EPSG:27700) (centre of a square of 100 m)
grid bearing         207° grid ± 3
grid-magnetic angle  2° east ± 1: grid to magnetic, take it off
magnetic bearing     205° mag ± 4
back bearing         027° grid ± 3
back bearing         025° mag ± 4 (grid-magnetic angle there: 2° east)
true bearing         204° true ± 3
convergence          3° west
declination          1° west ± 1 (WMM2025)
sixteen-point        south-south-west
datum shift          OSTN15
point scale          0.9999897
grid distance        1570 m ± 90
ground distance      1570 m ± 90
caution              The bearing is only known to ± 4°. Walk to a catching feature.
`
	if got.out != want || got.err != "caution: The bearing is only known to ± 4°. Walk to a catching feature.\n" {
		t.Errorf("got %s%s, want %s", got.out, got.err, want)
	}
}

// TestSightNever360: a bearing just west of north is not printed as 360.
func TestSightNever360(t *testing.T) {
	t.Parallel()
	got := sight(t, "EPSG:27700", "220000 772000", "219999.99 773000")
	if !strings.Contains(got.out, "grid bearing         000.0° grid\n") || strings.Contains(got.out, "360") {
		t.Errorf("got %s, want 000.0° grid", got.out)
	}
}

func TestSightRefusals(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, grid, from, to, says string }{
		{"same position", "EPSG:27700", "NN 123 456", "NN 123 456", "no bearing"},
		{"Irish letters", "EPSG:27700", "H 123 456", "NN 123 456", "Irish Grid"},
		{"British letters in Ireland", "EPSG:29903", "NN 123 456", "O 159 346", "--from"},
		{"odd figures", "EPSG:27700", "NN 123 456", "NN12345", "--to"},
		{"no letters", "EPSG:27700", "123 456", "NN 123 456", "letters are missing"},
		{"empty", "EPSG:27700", "", "NN 123 456", "there is no reference"},
		{"NaN", "EPSG:27700", "NaN NaN", "NN 123 456", "--from"},
		{"huge", "EPSG:27700", "1e300 1e300", "NN 123 456", "--from"},
		{"outside the grid", "EPSG:27700", "9999999 9999999", "NN 123 456", "outside"},
		{"New Zealand short", "EPSG:2193", "123 456", "124 456", "New Zealand"},
		{"lat 999", "EPSG:27700", "999°N 4°W", "NN 123 456", "--from"},
	} {
		got := sight(t, c.grid, c.from, c.to, "--json")
		if got.code != 1 || got.out != "" || !strings.Contains(got.err, c.says) {
			t.Errorf("%s: got %d %q %q, want code 1, no output, %q", c.name, got.code, got.out, got.err, c.says)
		}
	}
	for _, day := range []string{"2019-12-31", "2030-01-02", "1999-01-01", "2199-01-01"} {
		got := run(t, "", "sight", "--grid", "27700", "--date", day, "--from", "NN123456", "--to", "NN124456")
		if got.code != 1 || got.out != "" || !strings.Contains(got.err, "covers 1 January 2020 to 1 January 2030") {
			t.Errorf("%s: got %d %q %q, want code 1 and the model's span", day, got.code, got.out, got.err)
		}
	}
}

// TestSightBlackout: near the magnetic pole there is no magnetic figure, in
// either form, and both say why.
func TestSightBlackout(t *testing.T) {
	t.Parallel()
	got := sight(t, "EPSG:5041", "2000000 2000500", "2000100 2000000", "--json")
	wantCode(t, got, 0)
	o := got.object(t)
	for _, key := range []string{"magnetic_bearing_deg", "back_magnetic_bearing_deg", "declination_deg", "grid_magnetic_angle_deg"} {
		if v, ok := o[key]; !ok || v != nil {
			t.Errorf("%s: got %v, want null", key, v)
		}
	}
	if !strings.Contains(got.out, `"blackout-zone"`) || !strings.Contains(got.err, "too weak here for a compass") {
		t.Errorf("got %s and %q, want the blackout zone named in both", got.out, got.err)
	}
	table := sight(t, "EPSG:5041", "2000000 2000500", "2000100 2000000")
	if !strings.Contains(table.out, "magnetic bearing  none") || strings.Contains(table.out, "° mag") || !strings.Contains(table.out, "too weak here for a compass") {
		t.Errorf("table: got %s, want no magnetic figure and the caution", table.out)
	}
	rows := run(t, "2000000 2000500 2000100 2000000\n", "sight", "--grid", "5041", "--date", onTheDay, "--batch")
	wantCode(t, rows, 0)
	if f := strings.Split(strings.TrimSpace(rows.out), "\t"); len(f) != 6 || !strings.HasPrefix(f[0], "168.69") || f[2] != "none" || f[5] != "STOP blackout-zone" {
		t.Errorf("batch: got %q, want the grid bearing, no magnetic one and the stop", rows.out)
	}
}

func TestSightOutsideAreaIsSaid(t *testing.T) {
	t.Parallel()
	got := sight(t, "EPSG:27700", "E 850000 N 100000", "E 851000 N 100000", "--json")
	wantCode(t, got, 0)
	if !strings.Contains(got.err, "outside the area") || !strings.Contains(got.out, `"outside-area"`) {
		t.Errorf("got %s and %q, want outside the area said in both", got.out, got.err)
	}
}

// TestSightBatch: the columns are those named, and equal the single readings.
func TestSightBatch(t *testing.T) {
	t.Parallel()
	in := "220000 772000 213000 758000\n\n1 2 3\n220000 772000 220000 772000\nNaN 1 2 3\n195000\t740000\t 190000  725000\r\n"
	got := run(t, in, "sight", "--grid", "EPSG:27700", "--date", onTheDay, "--batch")
	wantCode(t, got, 1)
	rows := got.rows()
	if len(rows) != 6 {
		t.Fatalf("got %d rows %q, want 6", len(rows), got.out)
	}
	for i, ends := range map[int][2]string{0: {"220000 772000", "213000 758000"}, 5: {"195000 740000", "190000 725000"}} {
		one := sight(t, "EPSG:27700", ends[0], ends[1], "--json").object(t)
		for k, key := range []string{"grid_bearing_deg", "true_bearing_deg", "magnetic_bearing_deg", "grid_distance_m", "ground_distance_m"} {
			wantNear(t, key, float(t, rows[i][k]), one[key].(float64), 0)
		}
		if len(rows[i]) != 5 {
			t.Errorf("row %d: got %d values, want 5", i, len(rows[i]))
		}
	}
	for i, says := range map[int]string{1: "no values", 2: "3 values", 3: "no bearing", 4: "not a plain number"} {
		if text := strings.Join(rows[i], " "); !strings.HasPrefix(text, "error: ") || !strings.Contains(text, says) {
			t.Errorf("row %d: got %q, want error: … %q", i, text, says)
		}
	}
	outside := run(t, "220000 772000 213000 758000\n", "sight", "--grid", "27700", "--date", "2031-01-01", "--batch")
	if f := strings.Split(strings.TrimSpace(outside.out), "\t"); len(f) != 6 || !strings.HasPrefix(f[0], "206.56") || f[2] != "none" || f[5] != "note outside-model" || !strings.Contains(outside.err, "covers 1 January 2020 to 1 January 2030") {
		t.Errorf("date outside the model: got %q, %q, want the grid bearing without a magnetic one", outside.out, outside.err)
	}
}

// TestDegrees: figures written by whole steps, three digits, never 360, sides in
// words.
func TestDegrees(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		decimals, steps int
		north, want     string
	}{
		{0, 360, "grid", "000° grid"},
		{0, -1, "mag", "359° mag"},
		{1, 3599, "grid", "359.9° grid"},
		{1, 3600, "grid", "000.0° grid"},
		{4, 570000, "true", "057.0000° true"},
	} {
		if got := (degrees{c.decimals}).bearing(c.steps, c.north, 0); got != c.want {
			t.Errorf("%d steps of 10^-%d°: got %q, want %q", c.steps, c.decimals, got, c.want)
		}
	}
	for _, c := range []struct {
		decimals, steps int
		want            string
	}{
		{1, -13, "1.3° west"},
		{0, 2, "2° east"},
		{2, 0, "0.00°"},
	} {
		if got := (degrees{c.decimals}).side(c.steps, 0); got != c.want {
			t.Errorf("%d steps: got %q, want %q", c.steps, got, c.want)
		}
	}
}

// TestSightFactorSigmas: convergence and scale are as certain as the position of
// FROM. In UTM the convergence changes by sin φ a radian of longitude, so that
// a square of 1 km (σ 288.7 m) at 57° N makes 288.7/(6.4e6·cos 57°)·sin 57° rad
// = 0.0040° of it; of plain metres it is 0.
func TestSightFactorSigmas(t *testing.T) {
	t.Parallel()
	coarse := sight(t, "EPSG:32630", "30VVJ 60 17", "450000 6330000", "--json").object(t)
	wantNear(t, "convergence σ", coarse["convergence_deg_sigma"].(float64), 0.0040, 0.0002)
	// scale: m ≈ k0(1 + x²/2R²), so dm = x/R²·σ with x = 39.5 km west
	wantNear(t, "scale σ", coarse["point_scale_sigma"].(float64), 39500/6.38e6/6.38e6*288.7, 0.1e-7)
	exact := sight(t, "EPSG:32630", "460000 6317000", "450000 6330000", "--json").object(t)
	wantNear(t, "plain metres", exact["convergence_deg_sigma"].(float64)+exact["point_scale_sigma"].(float64), 0, 0)
	if got := exact["datum_shift"]; got != "none needed" {
		t.Errorf("datum shift %v, want none needed", got)
	}
}
