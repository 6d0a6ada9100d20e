package pace

// Method is a published rule of walking time. Its text names it in files and commands.
type Method string

// The methods.
const (
	NaismithMetric Method = "naismith-metric" // a speed, and 10 minutes for 100 m of climb
	Naismith1892   Method = "naismith-1892"   // as printed, in miles and feet
	Tobler         Method = "tobler"
)

// Methods are all of them, the usual one first.
func Methods() []Method { return []Method{NaismithMetric, Naismith1892, Tobler} }

// Words name a method for people.
func (m Method) Words() string {
	switch m {
	case NaismithMetric:
		return "Naismith, metric"
	case Naismith1892:
		return "Naismith 1892 (miles, feet)"
	case Tobler:
		return "Tobler"
	}
	return string(m)
}

// CountsClimb reports whether the method is a form of Naismith's rule, which Langmuir's and
// Tranter's corrections belong to.
func (m Method) CountsClimb() bool { return m == NaismithMetric || m == Naismith1892 }

// Ground is what is walked on. Its text names it in files and commands.
type Ground string

// The kinds of ground.
const (
	Unsaid     Ground = "" // counts as off a path
	Path       Ground = "path"
	OffPath    Ground = "off-path"
	Rough      Ground = "rough"
	Plantation Ground = "plantation" // nobody gets through
)

// Grounds are all kinds, the one that is not said first.
func Grounds() []Ground { return []Ground{Unsaid, Path, OffPath, Rough, Plantation} }

// String names a kind of ground for people.
func (g Ground) String() string {
	switch g {
	case Unsaid:
		return "not given"
	case OffPath:
		return "off path"
	}
	return string(g)
}

// Passable reports whether anybody gets through.
func (g Ground) Passable() bool { return g != Plantation }

// OwnGround is the ground of the method's published speed.
func (m Method) OwnGround() Ground {
	if m == NaismithMetric {
		return OffPath
	}
	return Path
}

// factor is what the ground makes of a method's speed over the flat.
func (m Method) factor(g Ground) float64 {
	onPath, offPath := 1.25, 1.0 // the speed of the metric form is that off a path
	switch m {
	case Naismith1892:
		onPath = 1 // the rule as printed knows no ground
	case Tobler:
		onPath, offPath = 1, 0.6
	}
	switch g {
	case Path:
		return onPath
	case Rough:
		return 0.6 * offPath
	}
	return offPath
}
