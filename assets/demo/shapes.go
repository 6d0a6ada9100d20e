package demo

// Shape is a hazard, a haven or a line of the demo plan: its kind in the words of plan
// files, and its points, metres on EPSG:27700, read off the drawn sheet to 5 m.
type Shape struct {
	Name, Kind string
	Points     [][2]float64 // easting and northing; one for a point
	OutMin     float64      // of a haven: minutes to where the party can be collected
}

// Hazards returns the areas of the demo plan that no leg may come near.
func Hazards() []Shape {
	return []Shape{
		{Name: "Coire Skarrach crags", Kind: "crag", Points: [][2]float64{
			{25995, 744360},
			{26105, 744525},
			{26355, 744415},
			{26740, 744390},
			{26850, 744470},
			{26985, 744460},
			{26960, 744280},
			{26960, 744115},
			{27245, 743880},
			{27220, 743855},
			{26750, 743910},
			{26615, 744030},
			{26630, 744195},
			{26380, 744170},
			{26135, 744060},
			{25995, 743825},
			{25930, 743840},
			{26025, 744060},
			{26105, 744225},
		}},
		{Name: "Loch Skeorra", Kind: "water", Points: [][2]float64{
			{26565, 743845},
			{26685, 743805},
			{26780, 743790},
			{26905, 743745},
			{27000, 743620},
			{27095, 743455},
			{27120, 743345},
			{27070, 743235},
			{26960, 743230},
			{26850, 743290},
			{26740, 743425},
			{26600, 743565},
			{26520, 743645},
			{26490, 743730},
			{26505, 743800},
		}},
	}
}

// Havens returns where the party of the demo plan is safe.
func Havens() []Shape {
	return []Shape{
		{Name: "Skelvig road", Kind: "road", OutMin: 10, Points: [][2]float64{
			{27455, 743155}, {27590, 743265}, {27755, 743330}, {27890, 743320}, {28055, 743240}, {28200, 743215},
		}},
		{Name: "Ruisg shelter", Kind: "open-shelter", OutMin: 75, Points: [][2]float64{{26050, 745500}}},
	}
}

// Lines returns the lines that the party of the demo plan can follow.
func Lines() []Shape {
	return []Shape{
		{Name: "Path over Meall Onnal", Kind: "path", Points: [][2]float64{
			{27760, 743345},
			{27760, 743510},
			{27825, 743700},
			{27825, 743865},
			{27795, 744085},
			{27775, 744250},
			{27850, 744415},
			{27890, 744500},
			{27835, 744665},
			{27780, 744800},
			{27620, 744980},
			{27455, 745050},
			{27290, 745020},
			{27165, 745105},
			{27015, 745270},
			{26905, 745335},
			{26685, 745460},
			{26410, 745440},
			{26270, 745475},
			{26050, 745500},
		}},
	}
}

// InCloud names the marks that the leader of the demo plan would recognise in cloud.
func InCloud() []string { return []string{"Cairn"} }

// Escape is a way off of the demo plan: from a mark, by legs to positions in metres on
// EPSG:27700, straight or along the line of that name.
type Escape struct {
	From string
	Legs []EscapeLeg
}

// EscapeLeg is one leg of an escape.
type EscapeLeg struct {
	E, N  float64
	Along string // name of a line; "" for a compass leg
}

// Escapes returns the escapes of the demo plan. Nobody has looked along them on the map:
// they are drafts.
func Escapes() []Escape {
	return []Escape{{From: "Cairn", Legs: []EscapeLeg{
		{E: 27455, N: 745050},
		{E: 27755, N: 743330, Along: "Path over Meall Onnal"},
	}}}
}
