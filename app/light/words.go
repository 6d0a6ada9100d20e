package light

import "time"

// SunsetWords say when the sun sets and when twilight ends, by a zone's clock, or that it
// does not: "Sunset 15:38, civil twilight ends 16:24."
func SunsetWords(d Day, zone *time.Location) string {
	clock := func(e Event) string { return e.At.In(zone).Format("15:04") }
	sunset := "Sunset " + clock(d.Sunset)
	switch d.Sunset.State {
	case Above:
		return "The sun does not set."
	case Below:
		sunset = "The sun does not rise"
	}
	switch d.Dusk.State {
	case Above:
		return sunset + "; it does not get dark: twilight lasts all night."
	case Below:
		return sunset + ", and it is dark all day."
	}
	return sunset + ", civil twilight ends " + clock(d.Dusk) + "."
}
