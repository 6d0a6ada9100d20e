package light_test

import (
	"errors"
	"testing"
	"time"

	"legwright/app/light"
)

// Zones have their IANA name, whatever was typed, and their summer time; offsets and the
// computer's own zone are none.
func TestZones(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Europe/London": "Europe/London", "london": "Europe/London", " new  york ": "America/New_York", "utc": "UTC",
		"europe/oslo": "Europe/Oslo", "Auckland": "Pacific/Auckland", "Denver": "America/Denver",
		"": "", "Local": "", "+01:00": "", "EST": "", "Etc/GMT+5": "", "Nowhere": "", "Europe/": "", "../zone": "", "Europe/../UTC": "",
	} {
		zone, err := light.ZoneTyped(text)
		var bad *light.BadZone
		switch {
		case want == "" && (!errors.As(err, &bad) || zone != nil || bad.Text != text):
			t.Errorf("%q is %v, %v", text, zone, err)
		case want != "" && (err != nil || zone.String() != want):
			t.Errorf("%q is %v, %v, want %s", text, zone, err, want)
		}
	}
	if _, err := light.Zone("london"); err == nil {
		t.Error("a file may name a zone by its city alone")
	}
	zone, err := light.Zone("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	for month, want := range map[time.Month]int{time.January: 0, time.July: 3600} {
		if _, off := time.Date(2026, month, 1, 12, 0, 0, 0, zone).Zone(); off != want {
			t.Errorf("London is %d s ahead in %v, want %d", off, month, want)
		}
	}
}
