package slips

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"legwright/app/calib"
	"legwright/app/units"
)

func figureWord(latLon bool, axis int) string {
	return [2][2]string{{"easting", "northing"}, {"longitude", "latitude"}}[index(latLon)][axis]
}

func index(b bool) int {
	if b {
		return 1
	}
	return 0
}

func greatOrSmall(size float64) string {
	if size > 0 {
		return "great"
	}
	return "small"
}

// compass is the direction in which a figure that is too great puts a point.
func compass(axis int, size float64) string {
	return [2][2]string{{"east", "west"}, {"north", "south"}}[axis][index(size < 0)]
}

func looks(many bool) string {
	if many {
		return "look"
	}
	return "looks"
}

// Bare is the slip as one that might have happened: "control point 3: the easting
// 1,000 m too great".
func (s Slip) Bare() string {
	return strings.NewReplacer(" looks ", " ", " look ", " ").Replace(s.Words)
}

// length writes the size of a slip: "1,000 m", "10′".
func (l *list) length(size float64, latLon bool) string {
	unit := l.Unit
	switch {
	case latLon && math.Abs(size) < 1:
		return strconv.FormatFloat(math.Round(600*math.Abs(size))/10, 'f', -1, 64) + "″"
	case latLon:
		return strconv.FormatFloat(math.Abs(size), 'f', -1, 64) + "′"
	case unit == "":
		unit = "m"
	}
	return units.Grouped(size) + " " + unit
}

// where says which points a line slip concerns, and whether they are many: "the top
// row (control points 1 and 2)".
func (l *list) where(points, rest []int) (words string, many bool) {
	if at := l.edge(points, rest); at != "" {
		return fmt.Sprintf("%s (%s)", at, pointList(points)), false
	}
	if at := l.edge(rest, points); at != "" {
		return fmt.Sprintf("all points but %s (%s)", at, pointList(points)), true
	}
	return pointList(points), true
}

// edge names points that make the picture's first or last row or column, "" for
// others. In a row the points differ less in height than they lie apart from all
// others.
func (l *list) edge(points, rest []int) string {
	row := func(p calib.PicturePt) float64 { return p.Row }
	col := func(p calib.PicturePt) float64 { return p.Col }
	for _, e := range []struct {
		name string
		of   func(calib.PicturePt) float64
		sign float64
	}{{"the top row", row, 1}, {"the bottom row", row, -1}, {"the left column", col, 1}, {"the right column", col, -1}} {
		last, first, next := math.Inf(-1), math.Inf(1), math.Inf(1)
		for _, i := range points {
			last, first = math.Max(last, e.sign*e.of(l.Points[i].At)), math.Min(first, e.sign*e.of(l.Points[i].At))
		}
		for _, i := range rest {
			next = math.Min(next, e.sign*e.of(l.Points[i].At))
		}
		if next-last > 2*(last-first) {
			return e.name
		}
	}
	return ""
}

// mostListed is how many points are named one by one.
const mostListed = 6

// pointList writes "control points 1, 2 and 3".
func pointList(points []int) string {
	if len(points) > mostListed {
		return fmt.Sprintf("%d control points, among them %d and %d", len(points), points[0]+1, points[len(points)-1]+1)
	}
	texts := make([]string, len(points))
	for k, i := range points {
		texts[k] = strconv.Itoa(i + 1)
	}
	if len(texts) == 1 {
		return "control point " + texts[0]
	}
	return "control points " + strings.Join(texts[:len(texts)-1], ", ") + " and " + texts[len(texts)-1]
}
