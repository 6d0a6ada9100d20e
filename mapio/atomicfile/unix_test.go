//go:build unix

package atomicfile

import (
	"bufio"
	"errors"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// childEnv names the file that a test in a process of its own writes to.
const childEnv = "LEGWRIGHT_TEST_WRITE"

// TestMain writes, in a process that a test has started, the file that it
// names, and goes on writing until it is killed or its input ends.
func TestMain(m *testing.M) {
	path := os.Getenv(childEnv)
	if path == "" {
		os.Exit(m.Run())
	}
	err := Write(path, Options{}, func(w io.Writer) error {
		_, err := io.WriteString(w, "half")
		_, _ = os.Stdout.WriteString("writing\n")
		_, _ = io.Copy(io.Discard, os.Stdin)
		return err
	})
	if err != nil {
		os.Exit(1)
	}
}

// child starts a process that is in the midst of writing path.
func child(t *testing.T, path, umask string) (cmd *exec.Cmd, end func()) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd = exec.Command("sh", "-c", "umask "+umask+` && exec "$0"`, self)
	cmd.Env = append(os.Environ(), childEnv+"="+path)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil || line != "writing\n" {
		t.Fatalf("the process says %q, %v", line, err)
	}
	return cmd, func() { _ = in.Close(); _ = cmd.Wait() }
}

func TestANewFileFollowsTheUmask(t *testing.T) {
	t.Parallel()
	for umask, want := range map[string]os.FileMode{"077": 0o600, "022": 0o644, "027": 0o640, "000": 0o666} {
		path := filepath.Join(t.TempDir(), "a.txt")
		_, end := child(t, path, umask)
		end()
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("umask %s: %v, %v; want %v", umask, info, err, want)
		}
	}
}

// TestLeftovers: what a killed process left is cleared by the next write in the
// folder; what another is still writing stays, and becomes its file.
func TestLeftovers(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	killed, _ := child(t, filepath.Join(dir, "killed.txt"), "022")
	_, end := child(t, filepath.Join(dir, "living.txt"), "022")
	if err := killed.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = killed.Wait()
	old := time.Now().Add(-2 * leftAfter)
	for name, at := range map[string]time.Time{
		tempStart + "0123abcd-77-1" + tempEnd: old, tempStart + "0123abcd-77-2" + tempEnd: time.Now(), // of another machine
		".hidden.tmp": old, "mine.tmp": old, // not ours
	} {
		put(t, filepath.Join(dir, name), "x", 0o644)
		if err := os.Chtimes(filepath.Join(dir, name), at, at); err != nil {
			t.Fatal(err)
		}
	}
	if n := strings.Count(names(t, dir), tempStart); n != 4 {
		t.Fatalf("%d temporary files lie there, want 4: the test shows too little", n)
	}
	if err := Write(filepath.Join(dir, "a.txt"), Options{}, text("x")); err != nil {
		t.Fatal(err)
	}
	got := names(t, dir)
	if strings.Count(got, tempStart) != 2 || !strings.Contains(got, "0123abcd-77-2") || !strings.Contains(got, ".hidden.tmp") || !strings.Contains(got, "mine.tmp") {
		t.Errorf("in the folder: %s", got)
	}
	end()
	holds(t, filepath.Join(dir, "living.txt"), "half")
}

func TestWhatIsNoFileIsRefused(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	pipe, link, socket := filepath.Join(dir, "pipe"), filepath.Join(dir, "link"), filepath.Join(dir, "s")
	if err := errors.Join(syscall.Mkfifo(pipe, 0o644), os.Symlink(os.DevNull, link)); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Skipf("no sockets here: %v", err)
	}
	defer l.Close()
	for path, want := range map[string]string{
		pipe: "is a named pipe, not a file", link: "is a device, not a file", os.DevNull: "is a device, not a file", socket: "is a socket, not a file", dir: "is a folder",
	} {
		for _, err := range []error{Check(path, Options{ReadOnly: true}), Write(path, Options{ReadOnly: true}, text("x"))} {
			if err == nil || !strings.HasPrefix(err.Error(), path+" "+want) {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
	if got := names(t, dir); got != "link pipe s" {
		t.Errorf("in the folder: %s", got)
	}
}
