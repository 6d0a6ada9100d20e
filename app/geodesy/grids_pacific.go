package geodesy

import "fmt"

// australianZones returns the Map Grid of Australia 2020, zones 46 to 59.
func australianZones() []*System {
	places := [...]box{
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
		s := utmLike(zone, false, GRS80(), "GDA2020")
		s.epsg, s.own, s.country = 7846+i, 7844, "Australia"
		s.name = fmt.Sprintf("MGA2020 zone %d", zone)
		s.words = []string{"map grid of australia", "gda2020", fmt.Sprintf("utm zone %ds", zone), "mgrs"}
		// EPSG 8450: the two are the same but for 3 m.
		s.datum, s.rank = sameDatum{"GDA2020", 1.5}, rankZone
		s.area, s.areaWords = area{b}, "Australia "+s.areaWords
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
		place      box
		words      string
	}{
		{"I", 33, 129.5, box{26.96, 128.17, 34.74, 130.46}, "nagasaki kagoshima islands"},
		{"II", 33, 131, box{30.18, 129.76, 33.99, 132.05}, "kyushu fukuoka saga kumamoto oita miyazaki kagoshima"},
		{"III", 36, 132 + 1.0/6, box{33.72, 130.81, 36.38, 133.49}, "yamaguchi shimane hiroshima"},
		{"IV", 33, 133.5, box{32.69, 131.95, 34.45, 134.81}, "shikoku kagawa ehime tokushima kochi"},
		{"V", 36, 134 + 1.0/3, box{34.13, 133.13, 35.71, 135.47}, "hyogo tottori okayama"},
		{"VI", 36, 136, box{33.4, 134.86, 36.33, 136.99}, "kyoto osaka fukui shiga mie nara wakayama"},
		{"VII", 36, 137 + 1.0/6, box{34.51, 136.22, 37.58, 137.84}, "ishikawa toyama gifu aichi"},
		{"VIII", 36, 138.5, box{34.54, 137.32, 38.58, 139.91}, "niigata nagano yamanashi shizuoka"},
		{"IX", 36, 139 + 5.0/6, box{29.31, 138.4, 37.98, 141.11}, "tokyo fukushima tochigi ibaraki saitama chiba gunma kanagawa"},
		{"X", 40, 140 + 5.0/6, box{37.73, 139.49, 41.58, 142.14}, "aomori akita yamagata iwate miyagi"},
		{"XI", 44, 140.25, box{41.34, 139.34, 43.42, 141.46}, "hokkaido west"},
		{"XII", 44, 142.25, box{42.15, 140.89, 45.54, 143.61}, "hokkaido sapporo asahikawa"},
		{"XIII", 44, 144.25, box{41.87, 142.61, 44.4, 145.87}, "hokkaido east kushiro abashiri"},
		{"XIV", 26, 142, box{24.67, 141.2, 27.8, 142.33}, "ogasawara bonin"},
		{"XV", 26, 127.5, box{26.02, 126.63, 26.91, 128.4}, "okinawa"},
		{"XVI", 26, 124, box{23.98, 122.83, 24.94, 125.51}, "yaeyama miyako"},
		{"XVII", 26, 131, box{24.4, 131.12, 26.01, 131.38}, "daito"},
		{"XVIII", 20, 136, box{20.37, 136.02, 20.48, 136.16}, "okinotorishima"},
		{"XIX", 26, 154, box{24.22, 153.91, 24.35, 154.05}, "minamitorishima"},
	}
	var list []*System
	for i, z := range zones {
		list = append(list, &System{
			epsg: 6669 + i, own: 6668, name: "Japan Plane Rectangular " + z.numeral, country: "Japan",
			words:     []string{"jgd2011", "nippon", z.words},
			ellipsoid: GRS80(),
			proj:      newTransverseMercator(GRS80(), tmParams{lat0: z.lat0, lon0: z.lon0, k0: 0.9999}),
			datum:     sameDatum{"JGD2011", nullShiftSigmaM},
			area:      area{z.place}, areaWords: "Japan, zone " + z.numeral,
			refs: plainOnly{},
		})
	}
	return list
}
