package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
)

// buildPackages are the Debian packages that building a window needs.
func buildPackages() []string {
	return []string{
		"gcc", "libc6-dev", "pkg-config", "libgl-dev", "libx11-dev", "libxrandr-dev",
		"libxxf86vm-dev", "libxi-dev", "libxcursor-dev", "libxinerama-dev",
	}
}

// screenPackages let a window stand where there is no display.
func screenPackages() []string {
	return []string{"xvfb", "openbox", "libgl1-mesa-dri"}
}

// testPackages are the peers and drivers that the tests check against.
func testPackages() []string {
	return append(screenPackages(), "xdotool", "proj-bin", "geographiclib-tools", "gdal-bin", "libxml2-utils", "libvips-tools",
		"libharfbuzz-bin",              // hb-shape, the reference for shaped lines of text
		"qpdf",                         // rewrites PDFs, packed and encrypted, and checks written ones
		"poppler-utils",                // pdftoppm and pdftotext, which read written PDFs again
		"libgeo-coordinates-osgb-perl", // the shifts of OSTN15, against which the embedded ones are held
	)
}

func runSetup(ctx context.Context, r *runner, _ []string) error {
	return r.install(ctx, append(buildPackages(), testPackages()...))
}

// install brings in the packages that are missing. Elsewhere than on a
// Debian-like system it says exactly what to install.
func (r *runner) install(ctx context.Context, packages []string) error {
	if runtime.GOOS != "linux" {
		return r.adviseOther()
	}
	if _, err := exec.LookPath("dpkg-query"); err != nil {
		return r.adviseOther()
	}
	missing := r.missing(ctx, packages)
	if len(missing) == 0 {
		return nil
	}
	fmt.Fprintf(r.out, "Installing the missing system packages: %s\n", strings.Join(missing, " "))
	apt, err := aptCommand()
	if err != nil {
		return fmt.Errorf("%w: run this yourself, then try again:\n  sudo apt-get install --no-install-recommends %s",
			err, strings.Join(missing, " "))
	}
	quiet := *r
	quiet.env = append(append([]string{}, r.env...), "DEBIAN_FRONTEND=noninteractive")
	if err := quiet.do(ctx, apt[0], append(apt[1:], "update", "-qq")...); err != nil {
		return err
	}
	args := append(apt[1:], "install", "-y", "-qq", "--no-install-recommends")
	if err := quiet.do(ctx, apt[0], append(args, missing...)...); err != nil {
		return err
	}
	if left := r.missing(ctx, packages); len(left) > 0 {
		return fmt.Errorf("still missing after the installation: %s", strings.Join(left, " "))
	}
	return nil
}

// aptCommand is apt-get as this user may call it.
func aptCommand() ([]string, error) {
	if os.Geteuid() == 0 {
		return []string{"apt-get"}, nil
	}
	if _, err := exec.LookPath("sudo"); err != nil {
		return nil, fmt.Errorf("installing packages needs root and there is no sudo")
	}
	return []string{"sudo", "-E", "apt-get"}, nil
}

// missing lists those of the packages that dpkg does not show as installed.
func (r *runner) missing(ctx context.Context, packages []string) []string {
	var out []string
	for _, p := range packages {
		cmd := exec.CommandContext(ctx, "dpkg-query", "-W", "-f", "${Status}", p)
		text, err := cmd.Output()
		if err != nil || !strings.Contains(string(text), "ok installed") {
			out = append(out, p)
		}
	}
	return out
}

// adviseOther says what to install where apt is not at hand. It is an error
// only where a C compiler is missing, since nothing can be built without one.
func (r *runner) adviseOther() error {
	advice := map[string]string{
		"darwin":  "the Xcode command line tools: xcode-select --install",
		"windows": "a C compiler for cgo: MSYS2 with mingw-w64-x86_64-gcc, its bin folder on PATH",
		"linux": "a C compiler, pkg-config and the development files of OpenGL and X11 " +
			"(libGL, libX11, libXrandr, libXxf86vm, libXi, libXcursor, libXinerama)",
	}
	text, ok := advice[runtime.GOOS]
	if !ok {
		text = advice["linux"]
	}
	fmt.Fprintf(r.out, "This machine has no apt. The bench needs %s\n", text)
	for _, cc := range []string{"gcc", "clang", "cc"} {
		if _, err := exec.LookPath(cc); err == nil {
			return nil
		}
	}
	return fmt.Errorf("no C compiler was found; install %s", text)
}
