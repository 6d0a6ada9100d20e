package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/disintegration/imaging"
)

// nfpm writes .deb and .rpm. It is run apart from this module, since it needs forty modules
// that the program does not.
const nfpm = "github.com/goreleaser/nfpm/v2/cmd/nfpm@v2.45.2"

// linuxPackages make the packages, check what stands in them, and try them.
func linuxPackages() []string {
	return append(screenPackages(), "appstream", "desktop-file-utils", "mmdebstrap", "rpm", "xdotool")
}

// linux builds the program for this machine's processor and makes a .deb, an .rpm and a
// tar.gz of it.
func (pk *packer) linux(ctx context.Context) ([]string, error) {
	if runtime.GOOS != "linux" {
		return nil, fmt.Errorf("these packages are made on Linux")
	}
	if err := pk.install(ctx, append(buildPackages(), linuxPackages()...)); err != nil {
		return nil, err
	}
	dir := filepath.Join(pk.work, "linux")
	if err := pk.step("build for Linux", func() error { return pk.stageLinux(ctx, dir) }); err != nil {
		return nil, err
	}
	if err := pk.step("desktop entry and metainfo", func() error { return pk.checkDesktop(ctx, dir) }); err != nil {
		return nil, err
	}
	p, err := pk.linuxNames(ctx, dir)
	if err != nil {
		return nil, err
	}
	if err := pk.step("packages", func() error { return p.write(ctx) }); err != nil {
		return nil, err
	}
	return p.files(), pk.step("try them", func() error { return p.try(ctx) })
}

// stageLinux lays every file out as it will stand on the system.
func (pk *packer) stageLinux(ctx context.Context, dir string) error {
	if err := pk.build(ctx, filepath.Join(dir, "usr", "bin", "legwright"), buildTag); err != nil {
		return err
	}
	for _, stage := range []func(context.Context, string) error{pk.stageDesktop, pk.stageIcons, pk.stageManual, pk.stageNotices} {
		if err := stage(ctx, dir); err != nil {
			return err
		}
	}
	return nil
}

// desktopFiles are the files of assets/linux and where they stand.
func desktopFiles() map[string]string {
	return map[string]string{
		"legwright.desktop":      "usr/share/applications/legwright.desktop",
		"legwright.metainfo.xml": "usr/share/metainfo/local.legwright.bench.metainfo.xml",
		"legwright.mime.xml":     "usr/share/mime/packages/legwright.xml",
	}
}

func (pk *packer) stageDesktop(_ context.Context, dir string) error {
	fill := strings.NewReplacer("@VERSION@", pk.version, "@DATE@", pk.at.Format(time.DateOnly))
	for from, to := range desktopFiles() {
		content, err := os.ReadFile(filepath.Join(pk.root, "assets", "linux", from))
		if err != nil {
			return err
		}
		if err := stage(dir, to, []byte(fill.Replace(string(content)))); err != nil {
			return err
		}
	}
	return nil
}

func iconSizes() []int { return []int{16, 22, 24, 32, 48, 64, 128, 256, 512} }

func (pk *packer) stageIcons(_ context.Context, dir string) error {
	look := filepath.Join(pk.root, "assets", "look")
	large, err := imaging.Open(filepath.Join(look, "icon.png"))
	if err != nil {
		return err
	}
	for _, size := range iconSizes() {
		var b bytes.Buffer
		if err := png.Encode(&b, image.Image(imaging.Resize(large, size, size, imaging.Lanczos))); err != nil {
			return err
		}
		if err := stage(dir, fmt.Sprintf("usr/share/icons/hicolor/%[1]dx%[1]d/apps/legwright.png", size), b.Bytes()); err != nil {
			return err
		}
	}
	drawn, err := os.ReadFile(filepath.Join(look, "icon.svg"))
	if err != nil {
		return err
	}
	return stage(dir, "usr/share/icons/hicolor/scalable/apps/legwright.svg", drawn)
}

// stageManual writes the manual page, packed as usual.
func (pk *packer) stageManual(ctx context.Context, dir string) error {
	text, err := pk.capture(ctx, "go", "run", "-tags", buildTag, "./cmd/internal/manpage", pk.at.Format(time.DateOnly))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression) // the level is a valid one
	if _, err := w.Write([]byte(text)); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	return stage(dir, "usr/share/man/man1/legwright.1.gz", b.Bytes())
}

// notices are the licences of what is in the program, and the list of changes.
func (pk *packer) notices() (map[string][]byte, error) {
	files, err := filepath.Glob(filepath.Join(pk.root, "assets", "notices", "*.[tm]*")) // .txt and .md
	if err == nil && len(files) == 0 {
		err = fmt.Errorf("there are no licences in assets/notices")
	}
	all := map[string][]byte{}
	for _, file := range files {
		content, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		all[filepath.Base(file)] = content
	}
	return all, err
}

func (pk *packer) stageNotices(_ context.Context, dir string) error {
	all, err := pk.notices()
	if err != nil {
		return err
	}
	for name, content := range all {
		if err := stage(dir, path.Join("usr/share/doc/legwright", name), content); err != nil {
			return err
		}
	}
	return nil
}

// checkDesktop asks the validators of freedesktop.org.
func (pk *packer) checkDesktop(ctx context.Context, dir string) error {
	at := func(name string) string { return filepath.Join(dir, filepath.FromSlash(desktopFiles()[name])) }
	if err := pk.do(ctx, "desktop-file-validate", at("legwright.desktop")); err != nil {
		return err
	}
	return pk.do(ctx, "appstreamcli", "validate", "--no-net", at("legwright.metainfo.xml"))
}

// linuxSet are the three packages for Linux.
type linuxSet struct {
	*packer
	tree            string // the staged files
	deb, rpm, plain string // the packages
	loads           loaded
}

func (pk *packer) linuxNames(_ context.Context, dir string) (*linuxSet, error) {
	loads, err := loadedBy(filepath.Join(dir, "usr", "bin", "legwright"))
	machine := map[string]string{"amd64": "x86_64", "arm64": "aarch64"}[runtime.GOARCH]
	return &linuxSet{
		pk, dir,
		filepath.Join(pk.dir, fmt.Sprintf("legwright_%s_%s.deb", pk.version, runtime.GOARCH)),
		filepath.Join(pk.dir, fmt.Sprintf("legwright-%s-1.%s.rpm", pk.version, machine)),
		filepath.Join(pk.dir, fmt.Sprintf("legwright-%s-linux-%s.tar.gz", pk.version, runtime.GOARCH)),
		loads,
	}, err
}

func (p *linuxSet) files() []string { return []string{p.deb, p.rpm, p.plain} }

func (p *linuxSet) write(ctx context.Context) error {
	depends, err := p.debDepends(ctx, p.loads)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "   the .deb depends on %s\n", strings.Join(depends, ", "))
	if err := p.nfpm(ctx, "deb", p.deb, depends); err != nil {
		return err
	}
	fmt.Fprintf(p.out, "   the .rpm requires %s\n", strings.Join(rpmDepends(p.loads), ", "))
	if err := p.nfpm(ctx, "rpm", p.rpm, rpmDepends(p.loads)); err != nil {
		return err
	}
	return writeTar(p.plain, p.tree, "usr/", "legwright-"+p.version, p.at)
}

// nfpm makes one package from a description, which JSON serves for.
func (p *linuxSet) nfpm(ctx context.Context, format, file string, depends []string) error {
	files, err := stagedFiles(p.tree)
	if err != nil {
		return err
	}
	type object map[string]any
	var contents []object
	for _, f := range files {
		contents = append(contents, object{
			"src": filepath.Join(p.tree, filepath.FromSlash(f.name)), "dst": "/" + f.name,
			"file_info": object{"mode": f.mode, "owner": "root", "group": "root", "mtime": p.at},
		})
	}
	const about = "desktop bench for people who navigate by map and compass"
	text, err := json.Marshal(object{
		"name": "legwright", "arch": runtime.GOARCH, "platform": "linux", "version": p.version, "release": "1",
		"section": "misc", "priority": "optional", "maintainer": "The makers of Legwright", "mtime": p.at,
		"description": about + "\nReads bearings from a picture of a map, plans legs and escapes, prints cards.\nA planning aid: carry a paper map and a compass.",
		"depends":     depends, "contents": contents, "disable_globbing": true,
		"rpm": object{"summary": about, "buildhost": "localhost", "compression": "zstd"},
		"deb": object{"compression": "zstd"},
	})
	if err != nil {
		return err
	}
	description := filepath.Join(p.work, format+".json")
	if err := os.WriteFile(description, text, 0o600); err != nil {
		return err
	}
	return p.do(ctx, "go", "run", nfpm, "package", "--config", description, "--packager", format, "--target", file)
}
