package ui

import (
	"strings"
	"time"

	"legwright/app/light"
)

// computer is what tells the time zone of the computer.
type computer struct {
	env  func(string) string
	link func(string) (string, error) // where a symbolic link leads
	read func(string) ([]byte, error)
}

// zone is the time zone of the computer by its IANA name, nil where it tells none: the
// variable TZ, the link that systems keep for it, or Debian's file with the name.
func (c computer) zone() *time.Location {
	names := []string{strings.TrimPrefix(c.env("TZ"), ":")}
	if to, err := c.link("/etc/localtime"); err == nil {
		names = append(names, to)
	}
	if text, err := c.read("/etc/timezone"); err == nil {
		names = append(names, strings.TrimSpace(string(text)))
	}
	for _, name := range names {
		if _, after, ok := strings.Cut(name, "zoneinfo/"); ok {
			name = after
		}
		if zone, err := light.Zone(strings.TrimPrefix(name, "Etc/")); err == nil {
			return zone
		}
	}
	return nil
}

// clock is the time, in a zone that has a name where the computer tells it, for plans
// keep the name.
func (c computer) clock() func() time.Time {
	zone := c.zone()
	if zone == nil {
		return time.Now
	}
	return func() time.Time { return time.Now().In(zone) }
}
