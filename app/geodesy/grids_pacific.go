package geodesy

import (
	"fmt"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
	"legwright/app/geodesy/proj"
)

// australianZones returns the Map Grid of Australia 2020, zones 46 to 59.
func australianZones() []*System {
	places := [...][4]float64{
		{-15.46, 93.41, -8.57, 96.01},
		{-15.56, 96, -8.47, 100.34},
		{-34.68, 102.14, -8.87, 108.01},
		{-37.84, 108, -10.72, 114.01},
		{-38.53, 114, -12.06, 120.01},
		{-38.07, 120, -10.46, 126.01},
		{-37.38, 125.99, -9.1, 132},
		{-40.71, 132, -8.88, 138.01},
		{-48.19, 138, -9.08, 144.01},
		{-50.89, 144, -9.23, 150.01},
		{-58.96, 150, -13.87, 156},
		{-60.56, 156, -14.08, 162.01},
		{-59.39, 162, -25.94, 168},
		{-32.48, 168, -25.61, 173.35},
	}
	var list []*System
	for i, b := range places {
		zone := 46 + i
		s := utmLike(zone, false, earth.GRS80(), "GDA2020")
		s.epsg, s.own, s.country = 7846+i, 7844, "Australia"
		s.name = fmt.Sprintf("MGA2020 zone %d", zone)
		s.words = []string{"map grid of australia", "gda2020", fmt.Sprintf("utm zone %ds", zone), "mgrs"}
		// EPSG 8450: the two are the same but for 3 m.
		s.datum, s.rank = datum.Like{Name: "GDA2020", SigmaM: 1.5}, rankZone
		s.area, s.areaWords = earth.AreaOf(b), "Australia "+s.areaWords
		list = append(list, s)
	}
	return list
}

// japanZones returns the plane rectangular zones of Japan on JGD2011. Their
// easting is the publisher's Y and their northing its X; both may be negative.
func japanZones() []*System {
	zones := [...]struct {
		numeral    string
		lat0, lon0 float64
		place      earth.Box
		words      string
	}{
		{"I", 33, 129.5, earth.Box{South: 26.96, West: 128.17, North: 34.74, East: 130.46}, "nagasaki kagoshima islands"},
		{"II", 33, 131, earth.Box{South: 30.18, West: 129.76, North: 33.99, East: 132.05}, "kyushu fukuoka saga kumamoto oita miyazaki kagoshima"},
		{"III", 36, 132 + 1.0/6, earth.Box{South: 33.72, West: 130.81, North: 36.38, East: 133.49}, "yamaguchi shimane hiroshima"},
		{"IV", 33, 133.5, earth.Box{South: 32.69, West: 131.95, North: 34.45, East: 134.81}, "shikoku kagawa ehime tokushima kochi"},
		{"V", 36, 134 + 1.0/3, earth.Box{South: 34.13, West: 133.13, North: 35.71, East: 135.47}, "hyogo tottori okayama"},
		{"VI", 36, 136, earth.Box{South: 33.4, West: 134.86, North: 36.33, East: 136.99}, "kyoto osaka fukui shiga mie nara wakayama"},
		{"VII", 36, 137 + 1.0/6, earth.Box{South: 34.51, West: 136.22, North: 37.58, East: 137.84}, "ishikawa toyama gifu aichi"},
		{"VIII", 36, 138.5, earth.Box{South: 34.54, West: 137.32, North: 38.58, East: 139.91}, "niigata nagano yamanashi shizuoka"},
		{"IX", 36, 139 + 5.0/6, earth.Box{South: 29.31, West: 138.4, North: 37.98, East: 141.11}, "tokyo fukushima tochigi ibaraki saitama chiba gunma kanagawa"},
		{"X", 40, 140 + 5.0/6, earth.Box{South: 37.73, West: 139.49, North: 41.58, East: 142.14}, "aomori akita yamagata iwate miyagi"},
		{"XI", 44, 140.25, earth.Box{South: 41.34, West: 139.34, North: 43.42, East: 141.46}, "hokkaido west"},
		{"XII", 44, 142.25, earth.Box{South: 42.15, West: 140.89, North: 45.54, East: 143.61}, "hokkaido sapporo asahikawa"},
		{"XIII", 44, 144.25, earth.Box{South: 41.87, West: 142.61, North: 44.4, East: 145.87}, "hokkaido east kushiro abashiri"},
		{"XIV", 26, 142, earth.Box{South: 24.67, West: 141.2, North: 27.8, East: 142.33}, "ogasawara bonin"},
		{"XV", 26, 127.5, earth.Box{South: 26.02, West: 126.63, North: 26.91, East: 128.4}, "okinawa"},
		{"XVI", 26, 124, earth.Box{South: 23.98, West: 122.83, North: 24.94, East: 125.51}, "yaeyama miyako"},
		{"XVII", 26, 131, earth.Box{South: 24.4, West: 131.12, North: 26.01, East: 131.38}, "daito"},
		{"XVIII", 20, 136, earth.Box{South: 20.37, West: 136.02, North: 20.48, East: 136.16}, "okinotorishima"},
		{"XIX", 26, 154, earth.Box{South: 24.22, West: 153.91, North: 24.35, East: 154.05}, "minamitorishima"},
	}
	var list []*System
	for i, z := range zones {
		list = append(list, &System{
			epsg: 6669 + i, own: 6668, name: "Japan Plane Rectangular " + z.numeral, country: "Japan",
			words:     []string{"jgd2011", "nippon", z.words},
			ellipsoid: earth.GRS80(),
			proj:      proj.NewTransverseMercator(earth.GRS80(), proj.TMParams{Lat0: z.lat0, Lon0: z.lon0, K0: 0.9999}),
			datum:     datum.Like{Name: "JGD2011", SigmaM: datum.LikeSigmaM},
			area:      earth.Area{z.place}, areaWords: "Japan, zone " + z.numeral,
			refs: plainOnly{},
		})
	}
	return list
}
