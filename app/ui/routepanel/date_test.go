package routepanel_test

import (
	"testing"
	"time"

	"legwright/app/plan"
	"legwright/app/ui/routepanel"
)

// in returns the environment of one variable.
func in(name, value string) func(string) string {
	return func(n string) string {
		if n == name {
			return value
		}
		return ""
	}
}

// Dates as the locales of glibc 2.36 write them (localedata, field d_fmt, year in four
// digits); the C locale's is not used, for 11/25/26 can be misread.
func TestDatesOfLocales(t *testing.T) {
	t.Parallel()
	day := plan.Date{Year: 2026, Month: time.May, Day: 6}
	for locale, want := range map[string]string{
		"de_DE.UTF-8": "06.05.2026", "de_AT": "2026-05-06", "en_GB.UTF-8": "06/05/2026", "en_US.UTF-8": "05/06/2026",
		"sv_SE": "2026-05-06", "sv_FI": "06.05.2026", "fr_FR@euro": "06/05/2026", "nl_NL": "06-05-2026", "da_DK": "06-05-2026",
		"en-GB": "06/05/2026", "en_NZ": "06/05/2026", "pl_PL": "06.05.2026", "hu_HU": "2026-05-06", "ja_JP": "2026-05-06",
		"C": "2026-05-06", "POSIX": "2026-05-06", "C.UTF-8": "2026-05-06", "": "2026-05-06", "xx_YY": "2026-05-06",
	} {
		d := routepanel.LocalDates(in("LC_TIME", locale))
		if got := d.Format(day); got != want {
			t.Errorf("%q: got %s, want %s", locale, got, want)
		}
		if back, err := d.Parse(d.Format(day)); err != nil || back != day {
			t.Errorf("%q: %s is read as %v, %v", locale, d.Format(day), back, err)
		}
	}
	both := func(n string) string { return map[string]string{"LC_TIME": "de_DE", "LANG": "en_US"}[n] }
	if got := routepanel.LocalDates(both).Format(day); got != "06.05.2026" {
		t.Errorf("LC_TIME does not come before LANG: %s", got)
	}
	if got := routepanel.LocalDates(in("LANG", "en_US")).Format(plan.Date{}); got != "" {
		t.Errorf("no date is written %q", got)
	}
}

// A date is read in the locale's order, or the only possible one; what could mean two
// days is refused.
func TestDatesTyped(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ locale, text, want string }{
		{"en_GB", "06/05/2026", "2026-05-06"},
		{"en_US", "06/05/2026", "2026-06-05"},
		{"en_US", "25/11/2026", "2026-11-25"},
		{"en_GB", "11/25/2026", "2026-11-25"},
		{"de_DE", "6.5.2026", "2026-05-06"},
		{"de_DE", "6. 5. 2026", "2026-05-06"},
		{"de_DE", "2026-05-06", "2026-05-06"},
		{"de_DE", "6 May 2026", "2026-05-06"},
		{"C", "06/05/2026", ""},
		{"sv_SE", "06/05/2026", ""},
		{"C", "05/05/2026", "2026-05-05"},
		{"C", "25/11/2026", "2026-11-25"},
		{"C", "2026/11/25", "2026-11-25"},
		{"en_GB", "06/05/26", ""},
		{"en_GB", "31/02/2026", ""},
		{"en_GB", "tomorrow", ""},
		{"en_GB", "1/2/3/2026", ""},
		{"en_GB", "", ""},
	} {
		got, err := routepanel.LocalDates(in("LANG", c.locale)).Parse(c.text)
		if (err == nil) != (c.want != "") || err == nil && got.String() != c.want {
			t.Errorf("%s %q: got %v, %v, want %q", c.locale, c.text, got, err, c.want)
		}
	}
}
