package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// vulnsSaid is what govulncheck prints of two vulnerabilities: one that calls lead to by two
// paths, and one that none leads to.
const vulnsSaid = `{"SBOM":{}}
{"finding":{"osv":"GO-1","fixed_version":"v2","trace":[{"module":"far/mod"}]}}
{"finding":{"osv":"GO-1","fixed_version":"v2","trace":[{"module":"far/mod","package":"far/mod","function":"Open"},{"module":"m","package":"m/a","function":"f"},{"module":"m","package":"m","function":"main"}]}}
{"finding":{"osv":"GO-1","fixed_version":"v2","trace":[{"module":"far/mod","package":"far/mod","function":"Open"},{"module":"m","package":"m","function":"main"}]}}
{"finding":{"osv":"GO-2","fixed_version":"v3","trace":[{"module":"stdlib"}]}}`

// A vulnerability fails where no reason is given, where the code contradicts the reason,
// and where a reason has no vulnerability any more.
func TestVulnerabilitiesNeedReasons(t *testing.T) {
	t.Parallel()
	found, err := readFindings(vulnsSaid)
	if err != nil {
		t.Fatal(err)
	}
	exempt := func(id, module string) exemption {
		return exemption{[]string{id}, module, "never used", regexp.MustCompile(`"far/mod"`)}
	}
	one, two, gone := exempt("GO-1", "far/mod"), exempt("GO-2", "stdlib"), exempt("GO-3", "far/mod")
	clean := map[string]string{"a.go": "package a"}
	for _, c := range []struct {
		list []exemption
		code map[string]string
		want string
	}{
		{[]exemption{one, two}, clean, ""},
		{[]exemption{two}, clean, "GO-1 in far/mod, mended in v2, calls may lead there (far/mod..Open ← m..main)"},
		{[]exemption{one}, clean, "GO-2 in stdlib, mended in v3, no call leads there"},
		{[]exemption{one, two, gone}, clean, "GO-3 is not found"},
		{[]exemption{exempt("GO-1", "near/mod"), two}, clean, "GO-1 is not found in near/mod"},
		{[]exemption{one, two, exempt("GO-3", "stdlib")}, clean, "GO-3 is not found"},
		{[]exemption{one, two}, map[string]string{"b.go": `import "far/mod"`}, "b.go has"},
	} {
		var out strings.Builder
		err := judgeFindings(&out, found, c.list, c.code)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v with %v: %v, want %q", c.list, c.code, err, c.want)
		}
		if c.want == "" && strings.Count(out.String(), "never used") != 2 {
			t.Errorf("the reasons are listed as %q", out.String())
		}
	}
	if _, err := readFindings(""); err == nil {
		t.Error("silence counts as nothing found")
	}
}

func TestVulnerabilitiesAreIndexedByModule(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if _, err := vulnIndex(dir); err == nil {
		t.Error("an empty database has an index")
	}
	for name, text := range map[string]string{
		"GO-1.json": `{"id":"GO-1","modified":"2026-01-01T00:00:00Z","affected":[{"package":{"name":"a/b"}},{"package":{"name":"a/b"}},{"package":{"name":"c"}}]}`,
		"GO-2.json": `{"id":"GO-2","modified":"2026-01-02T00:00:00Z","affected":[{"package":{"name":"c"}}]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	index, err := vulnIndex(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range index {
		for _, v := range m.Vulns {
			got = append(got, m.Path+" "+v.ID+" "+v.Modified[:10])
		}
	}
	if want := "a/b GO-1 2026-01-01, c GO-1 2026-01-01, c GO-2 2026-01-02"; strings.Join(got, ", ") != want {
		t.Errorf("the index holds %q, want %q", got, want)
	}
}
