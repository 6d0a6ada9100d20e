// Package windowtest works the real window with a real mouse and keyboard on
// a virtual display. The rig starts the program in a home of its own and asks
// the probe where things are; what it does, it does through X events alone.
package windowtest

import (
	"bytes"
	"context"
	"fmt"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"legwright/cmd/internal/xdisplay"
)

// Rig is one running bench on its own display.
type Rig struct {
	Home     string
	Fitted   [6]float64 // the view of the whole sheet, once it is known
	display  *xdisplay.Display
	borrowed bool // the display is another's
	windows  bool // the program is one for Windows and runs under Wine
	bin      string
	cmd      *exec.Cmd
	window   string
	probe    string
	said     *lockedBuffer
	ctx      context.Context
}

// lockedBuffer gathers what the program prints.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// Start opens the program bin with args in a window of 1400 × 900, its home being
// a folder, and waits for it. One that ends in .exe runs under Wine, whose prefix the
// environment names; its settings lie there and not in the home. The display stays when
// the rig is closed; nil has a new one made, which does not.
func Start(ctx context.Context, bin, home string, display *xdisplay.Display, args ...string) (*Rig, error) {
	r := &Rig{Home: home, display: display, borrowed: display != nil, ctx: ctx, bin: bin}
	if display == nil {
		var err error
		if display, err = xdisplay.Start(ctx, 1400, 900); err != nil {
			return nil, err
		}
		r.display = display
	}
	return r.begin("probe.json", args)
}

// Beside opens the same program once more, on the same display and in the same home.
func (r *Rig) Beside(args ...string) (*Rig, error) {
	second := &Rig{Home: r.Home, display: r.display, borrowed: true, ctx: r.ctx, bin: r.bin}
	return second.begin("probe beside.json", args, r.window)
}

// begin starts the program and waits for its window, which is none of the others'.
func (r *Rig) begin(probe string, args []string, others ...string) (*Rig, error) {
	bin := r.bin
	r.probe, r.said = filepath.Join(r.Home, probe), &lockedBuffer{}
	_ = os.Remove(r.probe)
	if r.windows = filepath.Ext(bin) == ".exe"; r.windows {
		args = append([]string{bin}, args...)
		for i, a := range args {
			args[i] = r.Named(a)
		}
		bin = "wine"
	}
	r.cmd = exec.CommandContext(r.ctx, bin, args...)
	r.cmd.Env = append(r.display.Env(), r.environment()...)
	r.cmd.Stdout, r.cmd.Stderr = r.said, r.said
	err := r.cmd.Start()
	if err != nil {
		r.Close()
		return nil, err
	}
	if r.window, err = r.display.Window(r.ctx, "Legwright", time.Minute, others...); err != nil {
		r.Close()
		return nil, fmt.Errorf("%w; the program said: %s", err, r.said)
	}
	r.activate()
	return r, nil
}

// activate waits until the window has the keyboard: what is pressed before is
// lost.
func (r *Rig) activate() {
	for until := time.Now().Add(10 * time.Second); time.Now().Before(until); {
		_, _ = r.display.Tool(r.ctx, "windowactivate", "--sync", r.window)
		if now, err := r.display.Tool(r.ctx, "getactivewindow"); err == nil && strings.TrimSpace(now) == r.window {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
}

func (r *Rig) environment() []string {
	return []string{
		"HOME=" + r.Home, "XDG_CONFIG_HOME=" + r.Home, "XDG_CACHE_HOME=" + r.Home, "XDG_STATE_HOME=" + r.Named(r.Home),
		"FYNE_THEME=light", "FYNE_SCALE=1",
		"LEGWRIGHT_SIZE=1400x900",
		"LEGWRIGHT_PROBE=" + r.Named(r.probe),
	}
}

// DriveEnv names the folder of this machine that is drive E: of Wine.
const DriveEnv = "LEGWRIGHT_WINDOW_DRIVE"

// A wineDrive is a drive of Wine and the folder of this machine that it is.
type wineDrive struct{ name, folder string }

// wineDrives are E:, if the environment names its folder, and Z:, which has all folders.
func wineDrives() []wineDrive {
	all := wineDrive{"Z:", ""}
	if folder := os.Getenv(DriveEnv); folder != "" {
		return []wineDrive{{"E:", folder}, all}
	}
	return []wineDrive{all}
}

// Named is a whole path as the program writes it.
func (r *Rig) Named(path string) string {
	if !r.windows || !filepath.IsAbs(path) {
		return path
	}
	for _, d := range wineDrives() {
		if rest, ok := strings.CutPrefix(path, d.folder+"/"); ok {
			return d.name + `\` + strings.ReplaceAll(rest, "/", `\`)
		}
	}
	return path
}

// hereOf is a path that the program wrote as this machine names it.
func hereOf(path string) string {
	for _, d := range wineDrives() {
		if rest, ok := strings.CutPrefix(path, d.name); ok {
			return d.folder + strings.ReplaceAll(rest, `\`, "/")
		}
	}
	return path
}

// Said is all that the program has printed.
func (r *Rig) Said() string { return r.said.String() }

// Kill ends the program as a crash would.
func (r *Rig) Kill() {
	if r.cmd.Process != nil {
		_ = r.cmd.Process.Kill()
		_ = r.cmd.Wait()
	}
}

// Close ends the program and the display.
func (r *Rig) Close() {
	r.Kill()
	if !r.borrowed {
		r.display.Close()
	}
}

// State waits until the probe satisfies want and returns it.
func (r *Rig) State(what string, want func(xdisplay.Probe) bool) (xdisplay.Probe, error) {
	var last xdisplay.Probe
	for until := time.Now().Add(40 * time.Second); time.Now().Before(until); time.Sleep(40 * time.Millisecond) {
		p, err := xdisplay.ReadProbe(r.probe)
		if err != nil {
			continue
		}
		if last = p; want(p) {
			return p, nil
		}
	}
	return last, fmt.Errorf("waited in vain for %s; hint %q, message %q, the program said: %s",
		what, last.Hint, last.Message, r.said)
}

// pause gives the window two ticks to take an event in.
func pause() { time.Sleep(60 * time.Millisecond) }

// MoveTo moves the mouse to a pixel of the window.
func (r *Rig) MoveTo(x, y float64) error {
	_, err := r.display.Tool(r.ctx, "mousemove", "--window", r.window,
		strconv.Itoa(int(math.Floor(x))), strconv.Itoa(int(math.Floor(y))))
	pause()
	return err
}

// Click clicks the left button at a pixel of the window.
func (r *Rig) Click(x, y float64) error {
	if err := r.MoveTo(x, y); err != nil {
		return err
	}
	return r.button("click", "1")
}

func (r *Rig) button(verb, n string) error {
	_, err := r.display.Tool(r.ctx, verb, n)
	pause()
	return err
}

// ClickControl clicks a control that the probe names.
func (r *Rig) ClickControl(name string) error {
	var last xdisplay.Rect // twice the same: it has been laid out
	p, err := r.State("the control "+name, func(p xdisplay.Probe) bool {
		now := p.Controls[name]
		still := now.W > 0 && now == last
		last = now
		time.Sleep(250 * time.Millisecond)
		return still
	})
	if err != nil {
		return err
	}
	c := p.Controls[name]
	return r.Click(c.X+c.W/2, c.Y+c.H/2)
}

// Drag presses at one pixel, moves in steps and releases at another.
func (r *Rig) Drag(x0, y0, x1, y1 float64) error {
	if err := r.MoveTo(x0, y0); err != nil {
		return err
	}
	if err := r.button("mousedown", "1"); err != nil {
		return err
	}
	const steps = 6
	for i := 1; i <= steps; i++ {
		f := float64(i) / steps
		if err := r.MoveTo(x0+f*(x1-x0), y0+f*(y1-y0)); err != nil {
			return err
		}
	}
	return r.button("mouseup", "1")
}

// Wheel turns the wheel at the pointer: positive zooms in.
func (r *Rig) Wheel(notches int) error {
	n := "4"
	if notches < 0 {
		n, notches = "5", -notches
	}
	for range notches {
		if err := r.button("click", n); err != nil {
			return err
		}
	}
	return nil
}

// Type types text into whatever has the focus.
func (r *Rig) Type(text string) error {
	_, err := r.display.Tool(r.ctx, "type", "--delay", "25", text)
	pause()
	return err
}

// Key presses keys, such as "Return" or "ctrl+z".
func (r *Rig) Key(keys ...string) error {
	for _, k := range keys {
		if _, err := r.display.Tool(r.ctx, "key", k); err != nil {
			return err
		}
		pause()
	}
	return nil
}

// Shot writes a picture of the whole display.
func (r *Rig) Shot(file string) error {
	img, err := r.display.Picture()
	if err != nil {
		return err
	}
	f, err := os.Create(file)
	if err != nil {
		return err
	}
	defer f.Close()
	return png.Encode(f, img)
}
