package geodesy

import (
	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// nad83Zones returns the UTM zones of North America on NAD83, 1 to 23. NAD83
// is treated as WGS 84, from which it differs by 1 m to 2 m (EPSG 1188: 4 m).
func nad83Zones() []*System {
	places := [...][4]float64{
		{47.88, -180, 63.21, -173.99},
		{48.66, -174, 73.05, -167.99},
		{49.52, -168, 74.29, -161.99},
		{15.57, -162, 74.71, -155.99},
		{15.56, -156, 74.71, -149.99},
		{54.05, -150, 74.13, -143.99},
		{52.05, -144, 73.59, -137.99},
		{48.06, -138, 79.42, -132},
		{35.38, -132, 80.93, -126},
		{30.54, -126, 81.8, -119.99},
		{30.88, -120, 83.5, -114},
		{31.33, -114, 84, -108},
		{28.98, -108, 84, -102},
		{25.83, -102, 84, -96},
		{25.61, -96, 84, -90},
		{23.97, -90, 84, -84},
		{23.81, -84, 84, -78},
		{28.28, -78, 84, -72},
		{14.92, -72, 84, -66},
		{15.63, -66, 84, -60},
		{38.56, -60, 84, -54},
		{39.5, -54, 57.65, -47.99},
		{39.85, -48, 54.47, -42},
	}
	var list []*System
	for i, b := range places {
		s := utmLike(1+i, true, earth.GRS80(), "NAD83")
		s.epsg, s.own, s.country, s.datum = 26901+i, 4269, "North America", datum.Like{Name: "NAD83", SigmaM: 2}
		s.words = append(s.words, "usa united states canada")
		s.area, s.areaWords = earth.AreaOf(b), "North America "+s.areaWords
		s.rank = rankSpare
		list = append(list, s)
	}
	return list
}

// nad27Zones returns the UTM zones of North America on NAD27, 1 to 22. Their
// references have no letters here: maps of that datum were lettered in more
// than one way.
func nad27Zones() []*System {
	places := [...][4]float64{
		{47.88, -180, 63.21, -173.99},
		{48.66, -174, 73.05, -167.99},
		{49.52, -168, 74.29, -161.99},
		{50.98, -162, 74.71, -155.99},
		{52.15, -156, 74.71, -149.99},
		{54.05, -150, 74.13, -143.99},
		{53.47, -144, 73.59, -138},
		{52.58, -138, 73.04, -132},
		{49.18, -132, 72.03, -126},
		{34.4, -126, 77.13, -119.99},
		{26.93, -120, 78.13, -114},
		{18.66, -114, 78.81, -108},
		{17.86, -108, 79.42, -102},
		{15.59, -102, 80.74, -96},
		{13.63, -96, 81.96, -90},
		{9.27, -90.01, 82.54, -84},
		{7.98, -84, 83.03, -78},
		{18.83, -78, 83.16, -72},
		{33.61, -72, 83.17, -66},
		{38.21, -66, 82.97, -59.99},
		{40.57, -60, 68.93, -54},
		{39.5, -54, 57.65, -47.99},
	}
	var list []*System
	for i, b := range places {
		s := utmLike(1+i, true, earth.Clarke1866(), "NAD27")
		s.epsg, s.own, s.country, s.datum = 26701+i, 4267, "North America", datum.NAD27()
		s.words = append(s.words, "usa united states canada mexico")
		s.area, s.areaWords = earth.AreaOf(b), "North America "+s.areaWords
		s.refs, s.zone = plainOnly{}, 0
		s.rank = rankSpare
		list = append(list, s)
	}
	return list
}
