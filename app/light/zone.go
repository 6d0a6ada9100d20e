package light

import (
	"fmt"
	"strings"
	"time"
	_ "time/tzdata" // zones by name on computers that have none
	"unicode"
)

// BadZone is the error for a text that names no time zone.
type BadZone struct{ Text string }

func (e *BadZone) Error() string {
	return fmt.Sprintf("the time zone %q is not known: name its region and city, such as Europe/London", e.Text)
}

// Zone returns the time zone of an IANA name, such as Europe/London, or UTC. A name that is
// an offset is none, for it would miss the change to summer time, and neither is the
// computer's own. The error is a *BadZone.
func Zone(name string) (*time.Location, error) {
	if name != "UTC" && (!strings.Contains(name, "/") || strings.HasPrefix(name, "Etc/")) {
		return nil, &BadZone{name}
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return nil, &BadZone{name}
	}
	return zone, nil
}

// ZoneTyped is Zone for what a person types: the part before the city may be missing, and
// letters may be small: "london", "New York".
func ZoneTyped(text string) (*time.Location, error) {
	name := strings.Join(strings.Fields(text), "_")
	for _, form := range []string{titled(name), name, strings.ToUpper(name)} {
		for _, area := range []string{"", "Europe/", "America/", "Asia/", "Africa/", "Atlantic/", "Australia/", "Pacific/", "Indian/", "Arctic/", "Antarctica/"} {
			if zone, err := Zone(area + form); err == nil {
				return zone, nil
			}
		}
	}
	return nil, &BadZone{text}
}

// titled begins each word with a capital.
func titled(name string) string {
	start := true
	return strings.Map(func(r rune) rune {
		was := start
		start = !unicode.IsLetter(r)
		if was {
			return unicode.ToUpper(r)
		}
		return unicode.ToLower(r)
	}, name)
}
