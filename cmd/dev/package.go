package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"legwright/assets/release"
)

// maxPackageBytes is what no package may exceed.
const maxPackageBytes = 40_000_000

// packer takes one version of the program to its packages.
type packer struct {
	*runner
	version string
	at      time.Time // of the commit; every file in a package bears it
	dir     string    // where the packages go
	work    string    // a folder for this run
}

// runPackage makes the packages for Linux and Windows, or for one of them, in out/packages
// and tries each as a new user would.
func runPackage(ctx context.Context, r *runner, args []string) error {
	systems := args
	if len(systems) == 0 {
		systems = []string{"linux", "windows"}
	}
	make := map[string]func(*packer, context.Context) ([]string, error){
		"linux": (*packer).linux, "windows": (*packer).windows,
	}
	for _, system := range systems {
		if make[system] == nil {
			return fmt.Errorf("there are packages for linux and windows, and none for %q", system)
		}
	}
	pk, err := r.packer(ctx)
	if err != nil {
		return err
	}
	defer os.RemoveAll(pk.work)
	var all []string
	for _, system := range systems {
		files, err := make[system](pk, ctx)
		if err != nil {
			return fmt.Errorf("%s: %w", system, err)
		}
		all = append(all, files...)
	}
	return pk.summary(all)
}

// packer reads the commit's time and makes the folders.
func (r *runner) packer(ctx context.Context) (*packer, error) {
	at, err := r.sourceTime(ctx)
	if err != nil {
		return nil, err
	}
	pk := &packer{version: release.Version, at: at, dir: filepath.Join(r.root, "out", "packages")}
	with := *r
	// -trimpath and no stamp of the repository: same bytes in any folder
	with.env = append(slices.Clone(r.env), "GOFLAGS=-trimpath -buildvcs=false '-ldflags=-s -w'", "SOURCE_DATE_EPOCH="+strconv.FormatInt(at.Unix(), 10), "TZ=UTC")
	pk.runner = &with
	if err := os.MkdirAll(pk.dir, 0o755); err != nil {
		return nil, err
	}
	pk.work, err = os.MkdirTemp("", "legwright-package")
	return pk, err
}

// sourceTime is the time that the environment names for reproducible builds, else that of
// the commit.
func (r *runner) sourceTime(ctx context.Context) (time.Time, error) {
	text := os.Getenv("SOURCE_DATE_EPOCH")
	if text == "" {
		var err error
		if text, err = r.capture(ctx, "git", "log", "-1", "--format=%ct"); err != nil {
			return time.Time{}, fmt.Errorf("the time of the commit (outside a repository set SOURCE_DATE_EPOCH): %w", err)
		}
	}
	seconds, err := strconv.ParseInt(strings.TrimSpace(text), 10, 64)
	return time.Unix(seconds, 0).UTC(), err
}

// summary prints size and SHA-256 of each package, keeps the sums in a file beside them, and
// fails if one is too large.
func (pk *packer) summary(files []string) error {
	var sums strings.Builder
	var failed []error
	for _, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		sum := fmt.Sprintf("%x  %s\n", sha256.Sum256(content), filepath.Base(file))
		sums.WriteString(sum)
		fmt.Fprintf(pk.out, "%5.1f MB  %s", float64(len(content))/1e6, sum)
		if len(content) > maxPackageBytes {
			failed = append(failed, fmt.Errorf("%s is larger than %d MB", filepath.Base(file), maxPackageBytes/1_000_000))
		}
	}
	failed = append(failed, os.WriteFile(filepath.Join(pk.dir, "SHA256SUMS"), []byte(sums.String()), 0o644))
	return errors.Join(failed...)
}
