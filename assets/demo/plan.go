package demo

// Title and Date head the demo plan: an outing on a Saturday in the life of the magnetic model.
const (
	Title = "Skelvig to Lochan Ullaidh"
	Date  = "2026-11-28"
	Zone  = "Europe/London" // of the ground
	Hour  = 9               // when the party sets out
)

// Feature says what stands at a mark on the drawn sheet.
type Feature string

// The features that marks of the demo stand on.
const (
	Quay       Feature = "quay"
	Junction   Feature = "path junction"
	WoodCorner Feature = "wood corner"
	Outflow    Feature = "outflow"
	Col        Feature = "col"
	TrigPillar Feature = "trig pillar"
	Cairn      Feature = "cairn"
	Hut        Feature = "hut"
)

// Mark is a named position of the demo plan. E and N are metres, EPSG:27700, exact;
// Reference is the ten-figure grid reference of the same point (the south-west
// corner of its metre square).
type Mark struct {
	Name      string
	Feature   Feature
	E, N      float64
	Reference string
}

// Leg is a stretch walked on one bearing, between marks by name.
type Leg struct {
	From, To string
	Note     string // tick-off features in the order they come
	Catching string // catching feature: what shows that the end was missed
}

// Sight is a bearing kept for reading the ground, not for walking.
type Sight struct {
	From, To string
	Note     string
}

// Marks returns the eight marks of the demo plan in the order of the walk.
func Marks() []Mark {
	return []Mark{
		{"Skelvig quay", Quay, 27455, 743150, "NL 27455 43150"},
		{"Path junction", Junction, 27760, 743335, "NL 27760 43335"},
		{"Wood corner", WoodCorner, 27960, 743960, "NL 27960 43960"},
		{"Cairn", Cairn, 27420, 745090, "NL 27420 45090"},
		{"Bealach nan Ròp", Col, 26730, 744600, "NL 26730 44600"},
		{"Bothan Ruisg", Hut, 26050, 745500, "NL 26050 45500"},
		{"Lochan outflow", Outflow, 25750, 745300, "NL 25750 45300"},
		{"Beinn Orrach pillar", TrigPillar, 25820, 744330, "NL 25820 44330"},
	}
}

// Legs returns the six legs of the demo plan: up from the quay, over the ridge and down to the lochan.
func Legs() []Leg {
	return []Leg{
		{
			From: "Skelvig quay", To: "Path junction",
			Note: "houses on both sides, then the wall end", Catching: "the road bends to the south-east",
		},
		{
			From: "Path junction", To: "Wood corner",
			Note: "wall on the right, then the wood's west side", Catching: "no trees to the right and the slope steepens",
		},
		{
			From: "Wood corner", To: "Cairn",
			Note: "climbing throughout, the stream falls away to the left", Catching: "the ground drops to the north",
		},
		{
			From: "Cairn", To: "Bealach nan Ròp",
			Note: "over the top of Meall Onnal, then down", Catching: "the ridge climbs again, with crags ahead",
		},
		{
			From: "Bealach nan Ròp", To: "Bothan Ruisg",
			Note: "even slope down to the north-west, a stream to the right", Catching: "the path along the north side",
		},
		{
			From: "Bothan Ruisg", To: "Lochan outflow",
			Note: "one stream to cross", Catching: "the shore of Lochan Ullaidh on the left",
		},
	}
}

// Sights returns the three sights of the demo plan.
func Sights() []Sight {
	return []Sight{
		{From: "Bealach nan Ròp", To: "Beinn Orrach pillar", Note: "the top behind the crags: do not walk this bearing"},
		{From: "Cairn", To: "Wood corner", Note: "to check the way just climbed"},
		{From: "Bothan Ruisg", To: "Cairn", Note: "skyline to the east"},
	}
}
