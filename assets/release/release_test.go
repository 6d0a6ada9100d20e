package release

import (
	"os"
	"regexp"
	"testing"
)

func TestVersionIsStatedAlike(t *testing.T) {
	t.Parallel()
	for file, stated := range map[string]string{
		"../../FyneApp.toml":    `(?m)^Version = "(.*)"$`,
		"../notices/changes.md": `(?m)^## (.*)$`,
	} {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		got := regexp.MustCompile(stated).FindSubmatch(raw)
		if got == nil || string(got[1]) != Version {
			t.Errorf("%s has the version %q, the program %q", file, got, Version)
		}
	}
}
