package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"legwright/cmd/internal/xdisplay"
)

// try installs the program under Wine in a fresh prefix as a new user would, opens a plan as
// a double click does, and uninstalls it again.
func (p *windowsSet) try(ctx context.Context) error {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return err
	}
	defer display.Close()
	home := filepath.Join(p.work, "wine")
	if err := os.MkdirAll(home, 0o700); err != nil {
		return err
	}
	with := *p.runner
	// what Wine puts into a person's own folders goes into this run's
	with.env = append(append([]string{}, display.Env()...), "HOME="+home, "USER=walker", "LEGWRIGHT_PROBE="+filepath.Join(home, "probe.json"), "LEGWRIGHT_SIZE=1300x820")
	u := &wineUser{&wine{runner: &with, dir: home}, p, ""}
	if err := u.prepare(ctx); err != nil {
		return err
	}
	defer u.end()
	for _, step := range []func(context.Context) error{u.install, u.registered, u.headless, u.mergeClasses} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	if err := u.doubleClicks(ctx, display); err != nil {
		return err
	}
	return u.uninstall(ctx)
}

// wineUser is a person with a computer of their own, under Wine.
type wineUser struct {
	*wine
	set  *windowsSet
	home string // C:\Users\NAME
}

// say runs a Windows program and returns what it printed.
func (u *wineUser) say(ctx context.Context, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, "wine", args...)
	cmd.Env = u.environment()
	text, err := cmd.CombinedOutput()
	if err != nil {
		err = fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, text)
	}
	return string(text), err
}

func (u *wineUser) folder() string {
	return filepath.Join(u.home, "AppData", "Local", "Programs", "Legwright")
}
func (u *wineUser) roaming() string { return filepath.Join(u.home, "AppData", "Roaming") }
func (u *wineUser) shortcut() string {
	return filepath.Join(u.roaming(), "Microsoft", "Windows", "Start Menu", "Programs", "Legwright.lnk")
}

// install runs the installer without questions and looks for what it should leave.
func (u *wineUser) install(ctx context.Context) error {
	if _, err := u.say(ctx, u.set.setup, "/S"); err != nil {
		return err
	}
	found, err := filepath.Glob(filepath.Join(u.dir, "prefix", "drive_c", "users", "*", "AppData", "Local", "Programs", "Legwright"))
	if err != nil || len(found) != 1 {
		return fmt.Errorf("the installer made %d folders, want 1", len(found))
	}
	u.home = strings.TrimSuffix(found[0], filepath.Join("AppData", "Local", "Programs", "Legwright"))
	files, err := stagedFiles(u.set.tree)
	if err != nil {
		return err
	}
	for _, f := range append(files, packedFile{name: "uninstall.exe"}) {
		if _, err := os.Stat(filepath.Join(u.folder(), f.name)); err != nil {
			return fmt.Errorf("not installed: %w", err)
		}
	}
	if _, err := os.Stat(u.shortcut()); err != nil {
		return fmt.Errorf("the start menu: %w", err)
	}
	fmt.Fprintf(u.set.out, "   installed %d files and an entry of the start menu\n", len(files)+1)
	return nil
}

// registryKeys are what the installer writes, each with a part of its value.
func (u *wineUser) registryKeys() map[string]string {
	const classes = `HKCU\Software\Classes\`
	return map[string]string{
		classes + `.legplan`:                                                 "Legwright.Plan",
		classes + `.legpack`:                                                 "Legwright.Pack",
		classes + `Legwright.Plan\shell\open\command`:                        `legwright.exe" "%1"`,
		classes + `Legwright.Pack\shell\open\command`:                        `legwright.exe" "%1"`,
		`HKCU\Software\Microsoft\Windows\CurrentVersion\Uninstall\Legwright`: u.set.version,
	}
}

func (u *wineUser) registered(ctx context.Context) error {
	for key, want := range u.registryKeys() {
		text, err := u.say(ctx, "reg", "query", key)
		if err != nil {
			return err
		}
		if !strings.Contains(text, want) {
			return fmt.Errorf("the registry has no %s in %s:\n%s", want, key, text)
		}
	}
	fmt.Fprintf(u.set.out, "   %d keys of the registry are right\n", len(u.registryKeys()))
	return nil
}

// mergeClasses copies the person's kinds of files to those of the computer. Windows shows both
// as one list, HKEY_CLASSES_ROOT; Wine 8 looks into the computer's alone.
func (u *wineUser) mergeClasses(ctx context.Context) error {
	for key := range u.registryKeys() {
		class, ok := strings.CutPrefix(key, `HKCU\Software\Classes\`)
		if !ok {
			continue
		}
		text, err := u.say(ctx, "reg", "query", key, "/ve")
		if err != nil {
			return err
		}
		_, value, ok := strings.Cut(text, "REG_SZ")
		if !ok {
			return fmt.Errorf("%s has no value:\n%s", key, text)
		}
		if _, err := u.say(ctx, "reg", "add", `HKLM\Software\Classes\`+class, "/ve", "/d", strings.TrimSpace(value), "/f"); err != nil {
			return err
		}
	}
	return nil
}

// headless runs the installed console twin.
func (u *wineUser) headless(ctx context.Context) error {
	program := filepath.Join(u.folder(), winConsole)
	for args, want := range map[string]string{"--version": u.set.version, "legs demo": "sheet"} {
		text, err := u.say(ctx, append([]string{program}, strings.Fields(args)...)...)
		if err != nil || !strings.Contains(text, want) {
			return fmt.Errorf("legwright %s: %v\n%s", args, err, text)
		}
		fmt.Fprintf(u.set.out, "   legwright %s wrote %d bytes\n", args, len(text))
	}
	return nil
}

// plan is where the person keeps a plan.
func (u *wineUser) plan() string { return filepath.Join(u.home, "My walks", "halvasay.legplan") }

// doubleClicks opens a plan through its kind of file, then a packed plan, which unpacks it
// into a folder beside it.
func (u *wineUser) doubleClicks(ctx context.Context, display *xdisplay.Display) error {
	folder := filepath.Dir(u.plan())
	if err := u.layOut(folder); err != nil {
		return err
	}
	if err := u.doubleClick(ctx, display, u.plan(), "installed-windows.png"); err != nil {
		return err
	}
	pack := filepath.Join(folder, "given to me.legpack")
	if _, err := u.say(ctx, filepath.Join(u.folder(), winConsole), "pack", windowsPath(u.plan()), "--to", windowsPath(pack)); err != nil {
		return err
	}
	if err := u.doubleClick(ctx, display, pack, "installed-windows-pack.png"); err != nil {
		return err
	}
	_, err := os.Stat(filepath.Join(folder, "given to me", "given to me.legplan"))
	return err
}

// doubleClick opens a file through its kind, and keeps a picture of the window.
func (u *wineUser) doubleClick(ctx context.Context, display *xdisplay.Display, file, picture string) error {
	probe := filepath.Join(u.dir, "probe.json")
	_ = os.Remove(probe) // of the window before
	// The program keeps the streams of this command, so they are no pipe. Where no program
	// opens the kind of file, the command waits for an answer, and no window comes.
	starting, stop := context.WithCancel(ctx)
	start := exec.CommandContext(starting, "wine", "start", "/unix", file)
	start.Env = u.environment()
	if err := start.Start(); err != nil {
		stop()
		return err
	}
	defer func() { stop(); _ = start.Wait() }() // how it ends says less than the window
	if _, err := display.Window(ctx, "Legwright", 2*time.Minute); err != nil {
		return err
	}
	if err := settled(probe, 2*time.Minute); err != nil {
		return err
	}
	state, err := xdisplay.ReadProbe(probe)
	if name := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)); err != nil || !strings.HasPrefix(state.Title, name+".legplan") {
		return fmt.Errorf("a double click on %s opened %q (%v)", filepath.Base(file), state.Title, err)
	}
	if err := writePicture(display, filepath.Join(u.set.packer.dir, picture)); err != nil {
		return err
	}
	fmt.Fprintf(u.set.out, "   a double click on a %s opened it (%s)\n", filepath.Ext(file), picture)
	_, err = u.say(ctx, "taskkill", "/f", "/im", winProgram)
	return err
}

// uninstall runs the uninstaller without questions. It must leave nothing but the plan and
// what a person would be asked about.
func (u *wineUser) uninstall(ctx context.Context) error {
	settings := filepath.Join(u.roaming(), "fyne", "legwright.bench")
	for _, kept := range []string{settings, u.plan()} {
		if _, err := os.Stat(kept); err != nil {
			return fmt.Errorf("before uninstalling: %w", err)
		}
	}
	if _, err := u.say(ctx, filepath.Join(u.folder(), "uninstall.exe"), "/S"); err != nil {
		return err
	}
	if err := gone(u.folder(), time.Minute); err != nil {
		return err
	}
	if err := gone(u.shortcut(), time.Minute); err != nil {
		return err
	}
	for key := range u.registryKeys() {
		if text, err := u.say(ctx, "reg", "query", key); err == nil {
			return fmt.Errorf("after uninstalling the registry still has %s:\n%s", key, text)
		}
	}
	for _, kept := range []string{settings, u.plan()} {
		if _, err := os.Stat(kept); err != nil {
			return fmt.Errorf("uninstalling took too much: %w", err)
		}
	}
	fmt.Fprintln(u.set.out, "   uninstalled: folder, start menu and registry are clean; plan and settings stayed")
	return nil
}

// gone waits until a path is no more; the uninstaller works on after its first process ends.
func gone(path string, patience time.Duration) error {
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(200 * time.Millisecond) {
		if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
	}
	return fmt.Errorf("%s is left", path)
}
