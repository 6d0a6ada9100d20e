package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/image/draw"

	"legwright/assets/look"
	"legwright/assets/release"
)

// winProgram and winConsole are what Windows gets: the program, and its twin for consoles.
const winProgram, winConsole = "legwright.exe", "legwright.com"

// buildWindows builds both into a folder with the C compiler of Debian's mingw-w64.
func (r *runner) buildWindows(ctx context.Context, dir string) error {
	resource := filepath.Join(r.root, "cmd", "legwright", "resource_windows_amd64.syso")
	defer os.Remove(resource)
	if err := r.windowsResource(ctx, resource); err != nil {
		return err
	}
	with := r.forWindows()
	if err := with.do(ctx, "go", "build", "-trimpath", "-tags", buildTag, "-ldflags=-s -w -H windowsgui", "-o", filepath.Join(dir, winProgram), "./cmd/legwright"); err != nil {
		return err
	}
	with.env = append(with.env, "CGO_ENABLED=0")
	return with.do(ctx, "go", "build", "-trimpath", "-ldflags=-s -w", "-o", filepath.Join(dir, winConsole), "./cmd/internal/winconsole")
}

// forWindows is a runner whose Go builds for Windows.
func (r *runner) forWindows() *runner {
	with := *r
	with.env = append(append([]string{}, r.env...), "CGO_ENABLED=1", "GOOS=windows", "GOARCH=amd64", "CC=x86_64-w64-mingw32-gcc")
	return &with
}

// windowsResource writes what Windows reads from the program itself: icon, manifest, version.
func (r *runner) windowsResource(ctx context.Context, out string) error {
	dir, err := os.MkdirTemp("", "legwright-resource")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	icon, err := windowsIcon(look.AppPNG())
	if err != nil {
		return err
	}
	for name, data := range map[string][]byte{"legwright.ico": icon, "legwright.manifest": []byte(manifest), "legwright.rc": []byte(resourceScript(release.Version))} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			return err
		}
	}
	return r.do(ctx, "x86_64-w64-mingw32-windres", "-I", dir, "-O", "coff", "-o", out, filepath.Join(dir, "legwright.rc"))
}

// resourceScript is the text that windres compiles. 1 is the first icon, which Windows shows
// for the file, and the manifest's number for a program.
func resourceScript(version string) string {
	return fmt.Sprintf(`#include <winver.h>
#pragma code_page(65001)
1 ICON "legwright.ico"
1 24 "legwright.manifest"
1 VERSIONINFO
FILEVERSION %[1]s
PRODUCTVERSION %[1]s
FILEOS VOS_NT_WINDOWS32
FILETYPE VFT_APP
BEGIN
  BLOCK "StringFileInfo"
  BEGIN
    BLOCK "080904B0"
    BEGIN
      VALUE "FileDescription", "Legwright"
      VALUE "FileVersion", "%[2]s"
      VALUE "InternalName", "legwright"
      VALUE "OriginalFilename", "%[3]s"
      VALUE "ProductName", "Legwright"
      VALUE "ProductVersion", "%[2]s"
    END
  END
  BLOCK "VarFileInfo"
  BEGIN
    VALUE "Translation", 0x0809, 0x04B0
  END
END
`, strings.ReplaceAll(version, ".", ",")+",0", version, winProgram)
}

// manifest asks Windows for sharp pixels on every monitor, for paths above 260 letters, and for
// UTF-8 where a library asks for text in the system's code page.
const manifest = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<assembly xmlns="urn:schemas-microsoft-com:asm.v1" manifestVersion="1.0">
  <trustInfo xmlns="urn:schemas-microsoft-com:asm.v3">
    <security><requestedPrivileges><requestedExecutionLevel level="asInvoker" uiAccess="false"/></requestedPrivileges></security>
  </trustInfo>
  <compatibility xmlns="urn:schemas-microsoft-com:compatibility.v1">
    <application><supportedOS Id="{8e0f7a12-bfb3-4fe8-b9a5-48fd50a15a9a}"/></application>
  </compatibility>
  <application xmlns="urn:schemas-microsoft-com:asm.v3">
    <windowsSettings>
      <dpiAware xmlns="http://schemas.microsoft.com/SMI/2005/WindowsSettings">true/pm</dpiAware>
      <dpiAwareness xmlns="http://schemas.microsoft.com/SMI/2016/WindowsSettings">PerMonitorV2, PerMonitor</dpiAwareness>
      <longPathAware xmlns="http://schemas.microsoft.com/SMI/2016/WindowsSettings">true</longPathAware>
      <activeCodePage xmlns="http://schemas.microsoft.com/SMI/2019/WindowsSettings">UTF-8</activeCodePage>
    </windowsSettings>
  </application>
</assembly>
`

// windowsIcon is a picture as an icon of Windows, a PNG in each size that it shows.
func windowsIcon(raw []byte) ([]byte, error) {
	from, err := png.Decode(bytes.NewReader(raw))
	if err != nil {
		return nil, err
	}
	sizes := []int{256, 64, 48, 40, 32, 24, 20, 16}
	var head, body bytes.Buffer
	write := func(values ...any) {
		for _, v := range values {
			_ = binary.Write(&head, binary.LittleEndian, v) // a buffer takes all
		}
	}
	write([]uint16{0, 1, uint16(len(sizes))}) // reserved, icon, pictures
	for _, n := range sizes {
		to := image.NewNRGBA(image.Rect(0, 0, n, n))
		draw.CatmullRom.Scale(to, to.Bounds(), from, from.Bounds(), draw.Src, nil)
		begins := 6 + 16*len(sizes) + body.Len()
		before := body.Len()
		if err := png.Encode(&body, to); err != nil {
			return nil, err
		}
		write([]uint8{uint8(n), uint8(n), 0, 0}, []uint16{1, 32}, []uint32{uint32(body.Len() - before), uint32(begins)}) // 256 is written as 0
	}
	return append(head.Bytes(), body.Bytes()...), nil
}
