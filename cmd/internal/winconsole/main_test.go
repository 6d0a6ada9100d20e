package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestMain is also the program that is started: it says what it read and ends with status 3.
func TestMain(m *testing.M) {
	if os.Getenv("WINCONSOLE_TEST") == "" {
		os.Exit(m.Run())
	}
	var typed [100]byte
	n, _ := os.Stdin.Read(typed[:])
	os.Stdout.WriteString("read " + string(typed[:n]))
	os.Stderr.WriteString("not well")
	os.Exit(3)
}

// Streams go to and fro as they are, and the status comes back; so it is with a console, which
// /dev/null resembles in that it is no file.
func TestRun(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := func(name, content string) *os.File {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	null, err := os.OpenFile(os.DevNull, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	for _, c := range []struct {
		name    string
		in      *os.File
		out     *os.File
		errw    *os.File
		printed map[string]string
	}{
		{"files", file("in", "057"), file("out", ""), file("err", ""), map[string]string{"out": "read 057", "err": "not well"}},
		{"a console to read from", null, file("out2", ""), file("err2", ""), map[string]string{"out2": "read ", "err2": "not well"}},
		{"a console alone", null, null, null, nil},
	} {
		program := exec.Command(os.Args[0])
		program.Env = append(os.Environ(), "WINCONSOLE_TEST=1")
		var ended *exec.ExitError
		if err := run(program, c.in, c.out, c.errw); !errors.As(err, &ended) || ended.ExitCode() != 3 {
			t.Errorf("%s: %v, want status 3", c.name, err)
		}
		for name, want := range c.printed {
			if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || string(got) != want {
				t.Errorf("%s: %s holds %q, %v, want %q", c.name, name, got, err, want)
			}
		}
	}
}
