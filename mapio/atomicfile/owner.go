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
	// leftAfter is the age from which an untouched temporary file counts as left
	// behind, whichever process made it.
	leftAfter = time.Hour
)

// Mark is part of the name of each unfinished file of this process: its machine and
// its process number.
func Mark() string { return fmt.Sprintf("%s-%d", machine(), os.Getpid()) }

// machine identifies the machine, or the container with process numbers of its own.
func machine() string {
	host, _ := os.Hostname()                     // all machines without a name count as one
	space, _ := os.Readlink("/proc/self/ns/pid") // only Linux has it
	h := fnv.New32a()
	_, _ = h.Write([]byte(host + "\x00" + space)) // never fails
	return fmt.Sprintf("%08x", h.Sum32())
}

// tempName returns a name for a new temporary file of this process.
func tempName(dir string) string {
	return filepath.Join(dir, fmt.Sprintf("%s%s-%d%s", tempStart, Mark(), rand.Uint64(), tempEnd))
}

// clearLeftovers removes the temporary files that killed processes left in a
// folder. A file that cannot be removed is tried again at the next write.
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

// Left reports whether the unfinished file at path, whose name contains the Mark of
// a process, was left behind. A file of another machine, or with this process's own
// number, counts as left if nobody has touched it for an hour.
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

// ownerOf returns the process of this machine whose Mark a name contains.
func ownerOf(name string) (pid int, ok bool) {
	_, rest, ok := strings.Cut(name, machine()+"-")
	pid, err := strconv.Atoi(rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))])
	return pid, ok && err == nil
}

// ended reports whether a process has ended; false if the system cannot tell.
func ended(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return true
	}
	defer p.Release() // its error says nothing once a process exists
	return errors.Is(p.Signal(syscall.Signal(0)), os.ErrProcessDone)
}
