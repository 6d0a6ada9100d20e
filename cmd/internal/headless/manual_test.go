package headless

import (
	"bytes"
	"os/exec"
	"regexp"
	"strings"
	"testing"
	"time"

	"legwright/assets/release"
)

func manualPage(t *testing.T) string {
	t.Helper()
	var b bytes.Buffer
	if err := Manual(&b, time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestManualHasAllHelp: the manual page has each subcommand in the order of the summary,
// each of its flags, and the caution.
func TestManualHasAllHelp(t *testing.T) {
	t.Parallel()
	manual := manualPage(t)
	parts := strings.Split(manual, "\n.SS ")
	if got, want := len(parts)-1, len(commands()); got != want {
		t.Fatalf("the manual page has %d subcommands, want %d", got, want)
	}
	flags := regexp.MustCompile(`(?m)^  --([a-z0-9-]+)`)
	for i, c := range commands() {
		part := parts[i+1]
		if name, _, _ := strings.Cut(part, "\n"); name != roff(c.name) {
			t.Errorf("section %d is of %q, want %q", i, name, c.name)
		}
		help := run(t, "", c.name, "--help")
		wantCode(t, help, exitDone)
		for _, m := range flags.FindAllStringSubmatch(help.out, -1) {
			if !regexp.MustCompile(`(?m)^\.B ` + regexp.QuoteMeta(roff("--"+m[1])) + `( |$)`).MatchString(part) {
				t.Errorf("the manual page of %s does not name --%s", c.name, m[1])
			}
		}
	}
	for _, must := range []string{roff(planningAid), release.Program, `2026\-11\-28`} {
		if !strings.Contains(manual, must) {
			t.Errorf("the manual page lacks %q", must)
		}
	}
}

// TestManualReads: groff, where it is installed, formats the page without a complaint.
func TestManualReads(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("groff"); err != nil {
		t.Skip("needs groff")
	}
	cmd := exec.Command("groff", "-ww", "-man", "-Tutf8", "-K", "utf8", "-P-cbou")
	cmd.Stdin = strings.NewReader(manualPage(t))
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil || said.Len() > 0 {
		t.Errorf("groff: %v\n%s", err, said.String())
	}
	if !strings.Contains(string(out), "SUBCOMMANDS") {
		t.Error("the formatted page has no list of subcommands")
	}
}
