package main

import (
	"context"
	"os/exec"
	"strings"
	"testing"
)

// A program that ends while its window is waited for ends the waiting, and the error
// holds what it wrote.
func TestAProgramThatEndsIsNotWaitedFor(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("sh"); err != nil {
		t.Skip("this test starts a shell, and there is none")
	}
	watched, stop, err := startWatched(t.Context(), exec.Command("sh", "-c", "echo no screen >&2; exit 3"))
	if err != nil {
		t.Fatal(err)
	}
	defer stop()
	<-watched.Done()
	if why := context.Cause(watched).Error(); !strings.Contains(why, "exit status 3") || !strings.Contains(why, "no screen") {
		t.Errorf("it says %q", why)
	}
}
