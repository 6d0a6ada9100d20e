package release

import (
	"os"
	"regexp"
	"testing"
)

func TestVersionIsThatOfThePackage(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("../../FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	got := regexp.MustCompile(`(?m)^Version = "(.*)"$`).FindSubmatch(raw)
	if got == nil || string(got[1]) != Version {
		t.Errorf("FyneApp.toml has the version %q, the program %q", got, Version)
	}
}
