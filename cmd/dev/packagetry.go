package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"legwright/assets/release"
	"legwright/cmd/internal/xdisplay"
)

// try installs the packages as a new user would. Both need root.
func (p *linuxSet) try(ctx context.Context) error {
	if os.Geteuid() != 0 {
		fmt.Fprintln(p.out, "   NOT TRIED: installing in a clean system needs root; run this task as root to try the packages")
		return nil
	}
	if err := p.tryRPM(ctx); err != nil {
		return fmt.Errorf(".rpm: %w", err)
	}
	if err := p.tryDeb(ctx); err != nil {
		return fmt.Errorf(".deb: %w", err)
	}
	return nil
}

// tryRPM unpacks the .rpm by rpm itself and compares each file with the staged one. What it
// requires is not resolved: that needs a system with RPM's packages.
func (p *linuxSet) tryRPM(ctx context.Context) error {
	root := filepath.Join(p.work, "rpm")
	if err := p.do(ctx, "rpm", "--root", root, "--install", "--nodeps", "--nosignature", p.rpm); err != nil {
		return err
	}
	files, err := stagedFiles(p.tree)
	if err != nil {
		return err
	}
	for _, f := range files {
		want, err := os.ReadFile(filepath.Join(p.tree, f.name))
		if err != nil {
			return err
		}
		if got, err := os.ReadFile(filepath.Join(root, f.name)); err != nil || !bytes.Equal(got, want) {
			return fmt.Errorf("installed %s differs from what was packed (%v)", f.name, err)
		}
	}
	fmt.Fprintf(p.out, "   .rpm: rpm unpacked %d files, equal to those packed\n", len(files))
	return nil
}

// tryDeb installs the .deb in a clean system, runs it without and with a window, and removes
// it again.
func (p *linuxSet) tryDeb(ctx context.Context) error {
	system, err := p.cleanSystem(ctx)
	if err != nil {
		return err
	}
	content, err := os.ReadFile(p.deb)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(system.root, "legwright.deb"), content, 0o644); err != nil {
		return err
	}
	for _, line := range []string{
		"apt-get update -qq",
		"apt-get install -y -qq --no-install-recommends /legwright.deb",
	} {
		if out, err := system.shell(ctx, line).CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w\n%s", line, err, out)
		}
	}
	if err := p.runInstalled(ctx, system); err != nil {
		return err
	}
	if err := system.window(ctx, filepath.Join(p.dir, "installed-deb.png")); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "   .deb: the window opened on the demo (installed-deb.png)\n")
	return p.removeInstalled(ctx, system)
}

// runInstalled runs the installed program without a window.
func (p *linuxSet) runInstalled(ctx context.Context, system cleanSystem) error {
	for _, c := range [][2]string{ // a line, and a part of what it prints
		{"legwright --version", release.Program},
		{"legwright legs demo", "Skelvig"},
		{"echo 56 -6 | legwright light --date 2026-11-28 --zone Europe/London", "T08:"}, // a zone by name on a system that has none
		{"legwright export demo --gpx /root/demo.gpx && cat /root/demo.gpx", "</gpx>"},
	} {
		out, err := system.shell(ctx, c[0]).Output()
		if err != nil || !strings.Contains(string(out), c[1]) {
			return fmt.Errorf("%s: %v, and not %q in\n%s", c[0], err, c[1], out)
		}
		fmt.Fprintf(p.out, "   .deb: %s: %d bytes\n", c[0], len(out))
	}
	return nil
}

// removeInstalled removes the package, and fails if a file of it is left.
func (p *linuxSet) removeInstalled(ctx context.Context, system cleanSystem) error {
	files, err := stagedFiles(p.tree)
	if err != nil {
		return err
	}
	left := func() []packedFile {
		return slices.DeleteFunc(slices.Clone(files), func(f packedFile) bool {
			_, err := os.Lstat(filepath.Join(system.root, f.name))
			return err != nil
		})
	}
	if len(left()) != len(files) {
		return fmt.Errorf("only %d of %d files were installed", len(left()), len(files))
	}
	if out, err := system.shell(ctx, "apt-get purge -y -qq legwright").CombinedOutput(); err != nil {
		return fmt.Errorf("removing it: %w\n%s", err, out)
	}
	if n := left(); len(n) > 0 {
		return fmt.Errorf("%d files are left after removing it, such as /%s", len(n), n[0].name)
	}
	fmt.Fprintf(p.out, "   .deb: removed, none of its %d files is left\n", len(files))
	return nil
}

// cleanSystem is a folder with a minimal system like this one.
type cleanSystem struct{ root string }

// cleanSystem unpacks a minimal system. What it is unpacked from is kept in the user's cache
// folder.
func (p *linuxSet) cleanSystem(ctx context.Context) (cleanSystem, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return cleanSystem{}, err
	}
	suite, mirror, components, err := p.mirror(ctx)
	if err != nil {
		return cleanSystem{}, err
	}
	base := filepath.Join(cache, "legwright-dev", "system-"+suite+".tar")
	if _, err := os.Stat(base); err != nil {
		if err := os.MkdirAll(filepath.Dir(base), 0o755); err != nil {
			return cleanSystem{}, err
		}
		fresh := filepath.Join(p.work, "base.tar")
		if err := p.do(ctx, "mmdebstrap", "--quiet", "--variant=minbase", "--components="+components, suite, fresh, mirror); err != nil {
			return cleanSystem{}, err
		}
		if err := p.do(ctx, "mv", fresh, base); err != nil {
			return cleanSystem{}, err
		}
	}
	s := cleanSystem{filepath.Join(p.work, "system")}
	if err := os.Mkdir(s.root, 0o755); err != nil {
		return s, err
	}
	// not the devices: those of this machine are bound in
	if err := p.do(ctx, "tar", "-xf", base, "-C", s.root, "--exclude=./dev/*"); err != nil {
		return s, err
	}
	return s, p.do(ctx, "cp", "/etc/resolv.conf", filepath.Join(s.root, "etc", "resolv.conf"))
}

// mirror is what this machine installs its own system from.
func (r *runner) mirror(ctx context.Context) (suite, url, components string, err error) {
	system, err := os.ReadFile("/etc/os-release")
	if err != nil {
		return "", "", "", err
	}
	for line := range strings.Lines(string(system)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "VERSION_CODENAME="); ok {
			suite = name
		}
	}
	text, err := r.capture(ctx, "apt-get", "indextargets", "--format", "$(SUITE) $(CODENAME) $(COMPONENT) $(REPO_URI)", "Created-By: Packages")
	if err != nil {
		return "", "", "", err
	}
	var names []string
	for line := range strings.Lines(text) {
		if f := strings.Fields(line); len(f) == 4 && f[1] == suite && (url == "" || url == f[3]) {
			url, names = f[3], append(names, f[2])
		}
	}
	if suite == "" || url == "" {
		return "", "", "", fmt.Errorf("no source of apt names the system %q", suite)
	}
	slices.Sort(names)
	return suite, url, strings.Join(slices.Compact(names), ","), nil
}

// shell runs a line of sh in the system. Its mounts end with it.
func (s cleanSystem) shell(ctx context.Context, line string, env ...string) *exec.Cmd {
	const enter = `mount --bind /dev "$0/dev" && mount -t proc proc "$0/proc" && exec chroot "$0" sh -c "$1"`
	cmd := exec.CommandContext(ctx, "unshare", "--mount", "sh", "-c", enter, s.root, line)
	cmd.Env = append([]string{"PATH=/usr/sbin:/usr/bin:/sbin:/bin", "HOME=/root", "LANG=C.UTF-8", "DEBIAN_FRONTEND=noninteractive"}, env...)
	return cmd
}

// window opens the installed bench on the demo on a virtual display outside the system, and
// keeps a picture of it.
func (s cleanSystem) window(ctx context.Context, picture string) error {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return err
	}
	defer display.Close()
	cmd := s.shell(ctx, "exec legwright demo", "DISPLAY="+display.Name, "LIBGL_ALWAYS_SOFTWARE=1",
		"LEGWRIGHT_SIZE=1400x900", "LEGWRIGHT_PROBE=/root/probe.json")
	return windowPicture(ctx, display, cmd, filepath.Join(s.root, "root", "probe.json"), picture)
}
