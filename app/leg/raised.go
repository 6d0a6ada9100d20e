package leg

import (
	"fmt"
	"strings"

	"legwright/app/caution"
)

// Raised gathers the cautions of all legs of a route, each once with the legs that raise it:
// "leg 3", "legs 2, 5", "all legs".
func Raised(rows []Row) []caution.Raised {
	var g caution.Gathering
	for i, r := range rows {
		g.Take(fmt.Sprint(i+1), r.Cautions()...)
	}
	return g.Raised(func(numbers []string) string {
		switch {
		case len(numbers) == len(rows) && len(rows) > 1:
			return "all legs"
		case len(numbers) == 1:
			return "leg " + numbers[0]
		}
		return "legs " + strings.Join(numbers, ", ")
	})
}
