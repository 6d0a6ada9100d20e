package plainlocale

import "testing"

func TestMakePlain(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		env  map[string]string
		want string
	}{
		{map[string]string{"LANG": "C.UTF-8"}, "LANG"},
		{map[string]string{"LC_ALL": "C.utf8", "LANG": "en_GB.UTF-8"}, "LC_ALL"},
		{map[string]string{"LANG": "en_GB.UTF-8"}, ""},
		{map[string]string{"LC_MESSAGES": "gd_GB.UTF-8", "LANG": "C.UTF-8"}, ""},
		{map[string]string{"LANG": "C"}, ""},
		{map[string]string{}, ""},
	} {
		set := map[string]string{}
		got := makePlain(func(n string) string { return c.env[n] },
			func(n, v string) error { set[n] = v; return nil })
		if got != c.want || (c.want != "" && set[c.want] != "C") {
			t.Errorf("%v: changed %q to %q, want %q to C", c.env, got, set[got], c.want)
		}
	}
}
