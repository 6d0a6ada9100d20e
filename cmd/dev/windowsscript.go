package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"legwright/assets/release"
)

// script is a batch file: status, redirection and pipes of the program as scripts use them.
// PowerShell does not run under Debian's Wine, so nothing is tried there.
const script = `@echo off
set PATH=%s;%%PATH%%
legwright --version
echo status %%errorlevel%%
legwright legs missing.legplan 2> said.txt
echo status %%errorlevel%%
legwright nonsense > said.txt 2>&1
echo status %%errorlevel%%
if errorlevel 2 echo wrong use
legwright slip --right 057_grid --said 237_grid > nul && echo done
legwright gridref --grid EPSG:27700 --inverse < refs.txt > grid.txt
echo status %%errorlevel%%
type grid.txt
echo 27455 743150| legwright gridref --grid EPSG:27700 | find "NL"
`

// scriptSays is what it prints.
const scriptSays = release.Program + `
status 0
status 1
status 2
wrong use
done
status 0
27455	743150	1
NL2745543150
`

// runScript runs the batch file in a folder with a blank, and the program on a console.
func (w *wine) runScript(ctx context.Context) error {
	folder := filepath.Join(w.dir, "batch files")
	if err := w.layOut(folder); err != nil {
		return err
	}
	text := fmt.Sprintf(strings.ReplaceAll(script, "_grid", `" grid"`), windowsPath(filepath.Dir(w.program)))
	for name, text := range map[string]string{"try.bat": text, "refs.txt": "NL 27455 43150\n"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(strings.ReplaceAll(text, "\n", "\r\n")), 0o600); err != nil {
			return err
		}
	}
	run := func(name string, args ...string) (string, error) {
		cmd := exec.CommandContext(ctx, name, args...)
		cmd.Dir, cmd.Env = folder, w.environment()
		var errw bytes.Buffer
		cmd.Stderr = &errw
		out, err := cmd.Output()
		if err != nil {
			err = fmt.Errorf("%s: %w\n%s%s", strings.Join(cmd.Args, " "), err, out, errw.String())
		}
		return strings.ReplaceAll(string(out), "\r", ""), err
	}
	got, err := run("wine", "cmd", "/c", "try.bat")
	if err != nil {
		return err
	}
	if got != scriptSays {
		return fmt.Errorf("the batch file said %q, want %q", got, scriptSays)
	}
	got, err = run("script", "-qec", "wine '"+w.program+"' --version", "/dev/null")
	if err != nil {
		return err
	}
	if !strings.Contains(got, release.Version) {
		return fmt.Errorf("on a console the program said %q, want the version in it", got)
	}
	fmt.Fprintln(w.out, "same     a batch file: status, redirection, pipe; on a console")
	return nil
}
