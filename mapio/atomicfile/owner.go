package atomicfile

import (
	"errors"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Names of temporary files: tempStart, the owner's mark, a number, tempEnd.
const (
	tempStart = ".legwright-"
	tempEnd   = ".tmp"
	// leftAfter is the age from which a temporary file that nobody has touched
	// counts as left behind, whoever made it.
	leftAfter = time.Hour
)

// Mark is what the names of unfinished files of this process hold: where it
// runs, and its number there.
func Mark() string { return fmt.Sprintf("%s-%d", machine(), os.Getpid()) }

// machine tells apart machines, and parts of one whose processes are numbered
// each for themselves.
func machine() string {
	host, _ := os.Hostname()                     // without a name all nameless machines are one
	space, _ := os.Readlink("/proc/self/ns/pid") // Linux alone has it
	h := fnv.New32a()
	_, _ = h.Write([]byte(host + "\x00" + space)) // never fails
	return fmt.Sprintf("%08x", h.Sum32())
}

// tempName is the name of a new temporary file of this process.
func tempName(dir string) string {
	return filepath.Join(dir, fmt.Sprintf("%s%s-%d%s", tempStart, Mark(), rand.Uint64(), tempEnd))
}

// clearLeftovers removes the temporary files in a folder that killed processes
// left behind. What cannot be removed is tried again at the next write.
func clearLeftovers(dir string) {
	f, err := os.Open(dir)
	if err != nil {
		return
	}
	defer f.Close() // read only: nothing to lose
	names, _ := f.Readdirnames(-1)
	for _, name := range names {
		if strings.HasPrefix(name, tempStart) && strings.HasSuffix(name, tempEnd) && Left(filepath.Join(dir, name)) {
			_ = os.Remove(filepath.Join(dir, name))
		}
	}
}

// Left reports whether nobody will finish any more the file at path, whose name
// holds the Mark of a process. One of another machine, and one with the number
// of this process, counts as left once nobody has touched it for an hour.
func Left(path string) bool {
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() {
		return false
	}
	if pid, ok := ownerOf(filepath.Base(path)); ok && pid != os.Getpid() {
		return ended(pid)
	}
	return time.Since(info.ModTime()) > leftAfter
}

// ownerOf finds in a name the process of this machine whose Mark it holds.
func ownerOf(name string) (pid int, ok bool) {
	_, rest, ok := strings.Cut(name, machine()+"-")
	pid, err := strconv.Atoi(rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))])
	return pid, ok && err == nil
}

// ended reports whether a process has ended. Where the system does not tell, it
// has not.
func ended(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return true
	}
	defer p.Release() // has nothing to say where something was found
	return errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
