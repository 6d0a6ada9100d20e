package ui

import (
	"errors"
	"testing"
	"time"
)

// The zone of the computer is found by its name, in the order in which systems look, and
// never as an offset.
func TestZoneOfTheComputer(t *testing.T) {
	t.Parallel()
	none := errors.New("there is none")
	for _, c := range []struct{ tz, link, file, want string }{
		{"Europe/Oslo", "/usr/share/zoneinfo/Europe/London", "", "Europe/Oslo"},
		{":Europe/Oslo", "", "", "Europe/Oslo"},
		{"", "/usr/share/zoneinfo/Europe/London", "Europe/Paris\n", "Europe/London"},
		{"", "/var/db/timezone/zoneinfo/America/New_York", "", "America/New_York"},
		{"", "../usr/share/zoneinfo/Etc/UTC", "", "UTC"},
		{"", "", "Europe/Paris\n", "Europe/Paris"},
		{"CET-1CEST", "", "Europe/Paris\n", "Europe/Paris"},
		{"", "/etc/own-zone", "", ""},
		{"", "", "", ""},
	} {
		told := computer{
			env: func(string) string { return c.tz },
			link: func(string) (string, error) {
				if c.link == "" {
					return "", none
				}
				return c.link, nil
			},
			read: func(string) ([]byte, error) {
				if c.file == "" {
					return nil, none
				}
				return []byte(c.file), nil
			},
		}
		got := ""
		if zone := told.zone(); zone != nil {
			got = zone.String()
		}
		if got != c.want {
			t.Errorf("%+v: the zone is %q", c, got)
		}
		if now := told.clock()(); time.Since(now).Abs() > time.Minute || c.want != "" && now.Location().String() != c.want {
			t.Errorf("%+v: the clock is at %v", c, now)
		}
	}
}
