package main

import (
	"bytes"
	"context"
	"debug/elf"
	"fmt"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// loaded says what a program for Linux loads.
type loaded struct {
	libraries []string // their names, such as libGL.so.1, sorted
	libc      string   // the oldest version of the C library that has every symbol, such as 2.34
}

// loadedBy reads what the program loads when it starts from its dynamic section, and what the
// window library opens later from the names among its constants.
func loadedBy(program string) (loaded, error) {
	f, err := elf.Open(program)
	if err != nil {
		return loaded{}, err
	}
	defer f.Close()
	libraries, err := f.ImportedLibraries()
	if err != nil {
		return loaded{}, err
	}
	symbols, err := f.ImportedSymbols()
	if err != nil {
		return loaded{}, err
	}
	constants, err := f.Section(".rodata").Data()
	if err != nil {
		return loaded{}, err
	}
	var versions []string
	for _, s := range symbols {
		if v, ok := strings.CutPrefix(s.Version, "GLIBC_"); ok {
			versions = append(versions, v)
		}
	}
	if len(libraries) == 0 || len(versions) == 0 {
		return loaded{}, fmt.Errorf("%s names no library, or no version of the C library", program)
	}
	libraries = append(libraries, openedLater(constants)...)
	slices.Sort(libraries)
	return loaded{slices.Compact(libraries), slices.MaxFunc(versions, compareVersions)}, nil
}

// neverOpened are libraries that the window library names for ways of drawing that the bench
// does not use: it draws by OpenGL on an X server.
var neverOpened = regexp.MustCompile(`^lib(EGL|GLES|OSMesa|OpenGL|vulkan|X11-xcb)`)

// openedLater lists the names of libraries among constants of C, each between zero bytes.
func openedLater(constants []byte) (all []string) {
	name := regexp.MustCompile(`^lib[A-Za-z0-9_+-]+\.so\.[0-9]+$`)
	for text := range bytes.SplitSeq(constants, []byte{0}) {
		if name.Match(text) && !neverOpened.Match(text) {
			all = append(all, string(text))
		}
	}
	return all
}

// compareVersions orders 2.9 before 2.34.
func compareVersions(a, b string) int {
	return slices.Compare(numbersOf(a), numbersOf(b))
}

func numbersOf(version string) (out []int) {
	for part := range strings.SplitSeq(version, ".") {
		n, _ := strconv.Atoi(part) // a part that is no number sorts first
		out = append(out, n)
	}
	return out
}

// debDepends names the Debian packages that the libraries come from on this machine.
func (r *runner) debDepends(ctx context.Context, l loaded) ([]string, error) {
	triplet, err := r.capture(ctx, "gcc", "-print-multiarch")
	if err != nil {
		return nil, err
	}
	var all []string
	for _, library := range l.libraries {
		text, err := exec.CommandContext(ctx, "dpkg-query", "-S", "*/"+strings.TrimSpace(triplet)+"/"+library).Output()
		name, _, ok := strings.Cut(string(text), ":")
		if err != nil || !ok {
			return nil, fmt.Errorf("no installed package has %s", library)
		}
		if name == "libc6" {
			name += " (>= " + l.libc + ")"
		}
		all = append(all, name)
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}

// rpmDepends names the libraries as RPM does on 64-bit systems.
func rpmDepends(l loaded) (all []string) {
	for _, library := range l.libraries {
		version := ""
		if library == "libc.so.6" {
			version = "GLIBC_" + l.libc
		}
		all = append(all, library+"("+version+")(64bit)")
	}
	return all
}
