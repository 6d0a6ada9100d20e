package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image/color"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/disintegration/imaging"

	"legwright/assets/look"
)

// windows builds the program for Windows and makes an installer and a zip archive of it.
func (pk *packer) windows(ctx context.Context) ([]string, error) {
	needed := append(append(buildPackages(), windowsPackages()...), append(screenPackages(), "nsis", "xdotool")...)
	if err := pk.install(ctx, needed); err != nil {
		return nil, err
	}
	p := &windowsSet{
		pk, filepath.Join(pk.work, "windows"),
		filepath.Join(pk.dir, fmt.Sprintf("legwright-%s-windows-amd64-setup.exe", pk.version)),
		filepath.Join(pk.dir, fmt.Sprintf("legwright-%s-windows-amd64.zip", pk.version)),
	}
	for _, s := range []struct {
		name string
		do   func(context.Context) error
	}{
		{"build for Windows", p.stage},
		{"installer", p.installer},
		{"zip archive", func(context.Context) error { return writeZip(p.plain, p.tree, "Legwright-"+p.version, p.at) }},
		{"the same bytes again", p.again},
		{"try it under Wine", p.try},
	} {
		if err := pk.step(s.name, func() error { return s.do(ctx) }); err != nil {
			return nil, err
		}
	}
	return []string{p.setup, p.plain}, nil
}

// windowsSet are the two packages for Windows.
type windowsSet struct {
	*packer
	tree         string // the staged files, as they will stand in the folder of the program
	setup, plain string // the packages
}

func (p *windowsSet) stage(ctx context.Context) error {
	if err := os.MkdirAll(p.tree, 0o755); err != nil {
		return err
	}
	if err := p.buildWindows(ctx, p.tree); err != nil {
		return err
	}
	notices, err := p.notices()
	if err != nil {
		return err
	}
	for name, content := range notices {
		lines := strings.ReplaceAll(string(content), "\n", "\r\n")
		if err := stage(p.tree, path.Join("doc", name), []byte(lines)); err != nil {
			return err
		}
	}
	return nil
}

// installer writes the list of files beside the staged folder and runs makensis, which takes
// the files' times into the installer.
func (p *windowsSet) installer(ctx context.Context) error {
	files, err := stagedFiles(p.tree)
	if err != nil {
		return err
	}
	size := int64(0)
	for _, f := range files {
		at := filepath.Join(p.tree, f.name)
		if err := os.Chtimes(at, p.at, p.at); err != nil {
			return err
		}
		info, err := os.Stat(at)
		if err != nil {
			return err
		}
		size += info.Size()
	}
	if err := os.WriteFile(p.tree+".nsh", []byte(fileMacros(files)), 0o600); err != nil {
		return err
	}
	icon, picture, err := p.pictures()
	if err != nil {
		return err
	}
	return p.do(ctx, "makensis", "-V2", "-DVERSION="+p.version, "-DSOURCE="+p.tree, "-DICON="+icon, "-DPICTURE="+picture, "-DOUT="+p.setup,
		fmt.Sprintf("-DKILOBYTES=%d", size/1000), filepath.Join(p.root, "assets", "windows", "legwright.nsi"))
}

// again makes both packages once more, in another folder and at another time. They must not
// differ in a byte.
func (p *windowsSet) again(ctx context.Context) error {
	dir := filepath.Join(p.work, "made again")
	q := &windowsSet{p.packer, filepath.Join(dir, "tree"), filepath.Join(dir, filepath.Base(p.setup)), filepath.Join(dir, filepath.Base(p.plain))}
	if err := errors.Join(q.stage(ctx), q.installer(ctx), writeZip(q.plain, q.tree, "Legwright-"+p.version, p.at)); err != nil {
		return err
	}
	for _, files := range [][2]string{{p.setup, q.setup}, {p.plain, q.plain}} {
		a, first := os.ReadFile(files[0])
		b, second := os.ReadFile(files[1])
		if err := errors.Join(first, second); err != nil {
			return err
		}
		if !bytes.Equal(a, b) {
			return fmt.Errorf("%s has other bytes when it is made again", filepath.Base(files[0]))
		}
	}
	return nil
}

// pictures writes the icon of the installer and the picture of its first and last page, which
// the installer brings with its time.
func (p *windowsSet) pictures() (icon, picture string, err error) {
	icon, picture = filepath.Join(p.work, "legwright.ico"), filepath.Join(p.work, "legwright.bmp")
	sizes, err := windowsIcon(look.AppPNG())
	if err != nil {
		return "", "", err
	}
	if err := os.WriteFile(icon, sizes, 0o600); err != nil {
		return "", "", err
	}
	large, err := imaging.Decode(bytes.NewReader(look.AppPNG()))
	if err != nil {
		return "", "", err
	}
	page := imaging.New(164, 314, color.NRGBA{0x2b, 0x39, 0x43, 0xff}) // the size that makensis asks for, the ground of the icon
	page = imaging.OverlayCenter(page, imaging.Resize(large, 128, 128, imaging.Lanczos), 1)
	if err := imaging.Save(page, picture); err != nil {
		return "", "", err
	}
	return icon, picture, os.Chtimes(picture, p.at, p.at)
}

// fileMacros are the macros of the installer's script that install and delete each file.
func fileMacros(files []packedFile) string {
	var install, remove bytes.Buffer
	folders := map[string]bool{}
	for _, f := range files {
		at := strings.ReplaceAll(f.name, "/", `\`)
		in := strings.TrimSuffix(`$INSTDIR\`+strings.ReplaceAll(path.Dir(f.name), "/", `\`), `\.`)
		fmt.Fprintf(&install, "SetOutPath \"%s\"\nFile \"${SOURCE}/%s\"\n", in, f.name)
		fmt.Fprintf(&remove, "Delete \"$INSTDIR\\%s\"\n", at)
		folders[in] = in != "$INSTDIR"
	}
	for in, inside := range folders {
		if inside {
			fmt.Fprintf(&remove, "RMDir \"%s\"\n", in)
		}
	}
	return fmt.Sprintf("!macro InstallFiles\n%s!macroend\n!macro DeleteFiles\n%s!macroend\n", install.String(), remove.String())
}
