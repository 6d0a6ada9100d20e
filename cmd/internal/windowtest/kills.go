package windowtest

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/cmd/internal/xdisplay"
	"legwright/mapio/planfile"
)

// lossAllowed is the age up to which a kill may lose work.
const lossAllowed = 500 * time.Millisecond

// demoArgument makes the bench begin with the demo.
const demoArgument = "demo"

// Kills works the bench at random in a real window, kills it, starts it again and
// compares what it restores with the plans that it had.
type Kills struct {
	Bin  string    // the program
	Dir  string    // an empty folder for its files
	Seed uint64    // of the acts and of the moments
	Out  io.Writer // a line for each kill

	display  *xdisplay.Display
	rig      *Rig
	hand     *hand
	restored string         // the plan that was restored last
	steps    map[string]int // changes of the plan by name
}

// Run kills the bench n times. The error joins all faults.
func (k *Kills) Run(ctx context.Context, n int) error {
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		return err
	}
	defer display.Close()
	k.display, k.steps = display, map[string]int{}
	picture := filepath.Join(k.Dir, demo.SheetName)
	if err := os.WriteFile(picture, demo.Sheet(), 0o600); err != nil {
		return err
	}
	if err := k.start(ctx, picture); err != nil { // the list of recent files has it from then on
		return err
	}
	defer func() {
		if k.rig != nil { // nil after a start that failed
			k.rig.Close()
		}
	}()
	dice := rand.New(rand.NewPCG(k.Seed, 1))
	k.hand = &hand{dice: dice, dir: k.Dir}
	k.rig.Kill()
	left, err := k.left()
	for _, r := range left {
		err = errors.Join(err, r.Discard())
	}
	if err := errors.Join(err, k.start(ctx, demoArgument)); err != nil {
		return err
	}
	_ = k.rig.Key("Escape", "Escape", "ctrl+h", "Return") // the welcome goes, the cautions are understood
	var faults []error
	for i := range n {
		said, err := k.once(ctx, time.Duration(dice.Float64()*float64(k.longest())))
		if err != nil {
			said = err.Error()
			faults = append(faults, fmt.Errorf("kill %d of seed %d: %w", i+1, k.Seed, err))
		}
		fmt.Fprintf(k.Out, "%4d  %s\n", i+1, said)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if k.rig == nil {
			return errors.Join(faults...)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(k.steps)) {
		fmt.Fprintf(k.Out, "%6d %s\n", k.steps[name], name)
	}
	fmt.Fprintf(k.Out, "seed %d: %d of %d kills survived, %d acts\n", k.Seed, n-len(faults), n, k.hand.acts)
	return errors.Join(faults...)
}

// start opens the bench, in the home it always has.
func (k *Kills) start(ctx context.Context, args ...string) error {
	var err error
	k.rig, err = Start(ctx, k.Bin, k.Dir, k.display, args...)
	if err != nil {
		return err
	}
	_, err = k.rig.State("the window", func(xdisplay.Probe) bool { return true })
	return err
}

// longest is how long the bench is worked at most before a kill. Under Wine it opens its plan
// more slowly, and must have some work to lose.
func (k *Kills) longest() time.Duration {
	if k.rig.windows {
		return 12 * time.Second
	}
	return 4 * time.Second
}

// nothingLeft returns an error if a bench without a plan left work in a journal.
func (k *Kills) nothingLeft() error {
	left, err := k.left()
	if err == nil && len(left) > 0 {
		err = errors.New("a journal holds work, and no plan was open")
	}
	return err
}

// once works for a while, kills, starts again and restores. It returns a line for
// the report.
func (k *Kills) once(ctx context.Context, long time.Duration) (string, error) {
	var dead atomic.Bool
	at := make(chan time.Time)
	go func() {
		time.Sleep(long)
		now := time.Now()
		k.rig.Kill()
		dead.Store(true)
		at <- now
	}()
	for !dead.Load() {
		k.hand.act(k.rig)
	}
	killed := <-at
	_, _ = k.display.Tool(ctx, "mouseup", "1") // of a drag that was cut off
	states, err := xdisplay.ReadPlans(k.rig.probe)
	if err == nil && len(states) == 0 {
		return "killed before it opened a plan", errors.Join(k.nothingLeft(), k.start(ctx, demoArgument))
	}
	if err != nil {
		return "", errors.Join(err, k.start(ctx, demoArgument))
	}
	for _, s := range states {
		name, _, _ := strings.Cut(s.Step, " ") // undo and redo name the act as well
		if name != "undo" && name != "redo" {
			name = s.Step
		}
		k.steps[name]++
	}
	left, err := k.left()
	if err != nil {
		return "", err
	}
	if len(left) == 2 && k.again(left[1]) { // killed before the restored one's journal was deleted
		err = left[1].Discard()
		left = left[:1]
	}
	said, wrong := judgeKill(states, left, killed, k.hand.released)
	wrong = errors.Join(err, wrong)
	var args []string
	if len(left) == 0 && states[len(states)-1].Path == "" {
		args = append(args, demoArgument) // else the bench begins empty, and has nothing to lose
	}
	if err := k.start(ctx, args...); err != nil {
		return "", err
	}
	if len(left) > 0 {
		wrong = errors.Join(wrong, k.restore(left[0]))
	}
	return fmt.Sprintf("%.1f s, %d changes, %s", long.Seconds(), len(states)-1, said), wrong
}

// left returns the work in the journals of the killed bench.
func (k *Kills) left() ([]planfile.Recovery, error) {
	return planfile.Pending([]string{filepath.Join(k.Dir, "legwright")})
}

// again reports whether it is what was restored last.
func (k *Kills) again(r planfile.Recovery) bool {
	s, err := textOf(r)
	return err == nil && s.Plan == k.restored
}

// restore accepts the work that the bench offers, which must be the journal's.
func (k *Kills) restore(left planfile.Recovery) error {
	want, err := textOf(left)
	if err != nil {
		return err
	}
	for try := range 200 {
		if try%25 == 0 { // a window that has just opened misses clicks
			if err := k.rig.ClickControl("restore"); err != nil {
				return err
			}
		}
		states, _ := xdisplay.ReadPlans(k.rig.probe)
		for _, s := range states {
			if s.Step != "recover" {
				continue
			}
			if s.Plan != want.Plan || s.Path != want.Path {
				return errors.New("the restored plan is not the one in the journal")
			}
			k.restored = s.Plan
			return nil
		}
		time.Sleep(50 * time.Millisecond)
	}
	return errors.New("the work that was offered was not restored")
}

// judgeKill compares the journals with the plans that the bench had. Only plans of
// the last half second may be lost.
func judgeKill(states []xdisplay.PlanState, left []planfile.Recovery, killed, released time.Time) (string, error) {
	last := states[len(states)-1]
	if len(left) > 1 {
		return "", fmt.Errorf("the journals hold %d plans, want one at most", len(left))
	}
	allowed := mayBe(states, killed, released)
	if len(left) == 0 {
		for i, s := range allowed {
			if !s.Dirty && inItsFile(s) {
				return fmt.Sprintf("nothing unsaved, %d behind", i), nil
			}
		}
		return "", fmt.Errorf("no journal holds the unsaved plan, after %q", last.Step)
	}
	got, err := textOf(left[0])
	if err != nil {
		return "", err
	}
	for i, s := range allowed {
		if s.Plan == got.Plan && s.Path == got.Path {
			return fmt.Sprintf("restored, %d behind", i), nil
		}
	}
	if left[0].At.After(last.At) {
		return "restored, newer than was noted", nil // killed between the journal and the note
	}
	for i := len(states) - 2; i >= 0; i-- {
		if states[i].Plan == got.Plan {
			return "", fmt.Errorf("the journal is %d changes behind, at a plan replaced %v before the kill", len(states)-1-i, killed.Sub(states[i+1].At))
		}
	}
	return "", fmt.Errorf("the journal holds a plan, after %q, that the bench never had", got.Step)
}

// mayBe lists the plans that may come back, newest first: those of the last half
// second. A drag is one act, which ends with its release.
func mayBe(states []xdisplay.PlanState, killed, released time.Time) []xdisplay.PlanState {
	since := killed.Add(-lossAllowed)
	var out []xdisplay.PlanState
	for i := len(states) - 1; i >= 0; i-- {
		s := states[i]
		out = append(out, s)
		if s.At.Before(since) && !(s.Drag && released.After(since)) {
			break
		}
	}
	return out
}

// inItsFile reports whether a saved plan is in its file. A saved plan without a file
// was never changed.
func inItsFile(s xdisplay.PlanState) bool {
	if s.Path == "" {
		return true
	}
	p, _, err := planfile.NewStore().Load(hereOf(s.Path))
	if err != nil {
		return false
	}
	noted, err := planfile.Decode(strings.NewReader(s.Plan))
	return err == nil && work(p) != "" && work(p) == work(noted)
}

// work is a plan as text without what only its file remembers: when it was saved, and whether
// its sheets were checked then. It is empty where the plan cannot be written.
func work(p *plan.Plan) string {
	var text strings.Builder
	if planfile.Encode(&text, p.StampSaved(time.Time{}).Remembering(func(plan.ID) bool { return false })) != nil {
		return ""
	}
	return text.String()
}

// textOf is a journal's plan in the form that the bench notes.
func textOf(r planfile.Recovery) (xdisplay.PlanState, error) {
	var text strings.Builder
	if err := planfile.Encode(&text, r.Plan); err != nil {
		return xdisplay.PlanState{}, err
	}
	s := xdisplay.PlanState{At: r.At, Path: r.Path, Plan: text.String()}
	if n := len(r.Steps); n > 0 {
		s.Step = r.Steps[n-1]
	}
	return s, nil
}

// hand does random things at the bench by mouse and keyboard.
type hand struct {
	dice     *rand.Rand
	dir      string
	acts     int
	last     [2]float64 // where a thing was set last, in pixels of the window
	released time.Time  // when a drag that moves a thing ended, or will
}

// act does one thing. The window may die during it, and a dialog may refuse it:
// neither matters.
func (h *hand) act(r *Rig) {
	p, err := xdisplay.ReadProbe(r.probe)
	if err != nil {
		time.Sleep(20 * time.Millisecond)
		return
	}
	h.acts++
	x0, y0 := h.last[0], h.last[1]
	x1, y1 := p.Sheet.X+p.Sheet.W*(0.1+0.8*h.dice.Float64()), p.Sheet.Y+p.Sheet.H*(0.15+0.7*h.dice.Float64())
	act := h.dice.IntN(12)
	if p.Points == 0 && act%2 == 0 { // the picture of openRecent
		h.openDemo(r)
		return
	}
	if act <= 5 {
		h.last = [2]float64{x1, y1}
	}
	switch act {
	case 0, 1, 2: // a leg or a sight
		_ = r.Drag(x0, y0, x1, y1)
		_ = r.Key([]string{"l", "l", "s"}[h.dice.IntN(3)])
	case 3, 4: // a mark, whose name can be typed
		_ = r.MoveTo(x1, y1)
		_, _ = r.display.Tool(r.ctx, "click", "--repeat", "2", "--delay", "60", "1")
		pause()
		if act == 4 {
			_ = r.Type(fmt.Sprint("Hut ", h.acts))
			_ = r.Key("Return")
		}
	case 5: // something moved
		h.move(r, x0, y0, x1, y1)
	case 6: // what was set last deleted
		_ = r.Click(x0, y0)
		_ = r.Key("ctrl+j", "Delete")
	case 7, 8:
		for range 1 + h.dice.IntN(5) {
			_ = r.Key([]string{"ctrl+z", "ctrl+z", "ctrl+y"}[h.dice.IntN(3)])
		}
	case 9: // a typed mark
		_ = r.Key("ctrl+m")
		_ = r.Type(fmt.Sprintf("%05d %06d", 26000+h.dice.IntN(3000), 742000+h.dice.IntN(3000)))
		_ = r.Key("Return", "Escape")
	case 10:
		h.save(r, p)
	case 11:
		h.openRecent(r)
	}
}

// move drags the last thing to another position.
func (h *hand) move(r *Rig, x0, y0, x1, y1 float64) {
	_ = r.Key("ctrl+t")
	h.released = time.Now().Add(time.Hour)
	_ = r.Drag(x0, y0, x1, y1)
	h.released = time.Now()
	_ = r.Key("Escape")
}

// save saves the plan, under a new name if it has none.
func (h *hand) save(r *Rig, p xdisplay.Probe) {
	_ = r.Key("ctrl+s")
	if !strings.Contains(p.Title, planfile.Ext) {
		_ = r.Key("ctrl+a")
		_ = r.Type(r.Named(filepath.Join(h.dir, fmt.Sprintf("plan%d%s", h.dice.IntN(1000), planfile.Ext))))
		_ = r.Key("Return")
	}
	_ = r.Key("Escape")
}

// openRecent opens one of the files opened last, by the menu, and answers what
// is asked with Return.
func (h *hand) openRecent(r *Rig) {
	_ = r.Click(20, 12)
	_ = r.Key("Down", "Down", "Down", "Right")
	for range h.dice.IntN(2) {
		_ = r.Key("Down")
	}
	_ = r.Key("Return", "Return")
	time.Sleep(time.Duration(h.dice.IntN(400)) * time.Millisecond)
	_ = r.Key("Escape", "Escape")
}

// openDemo opens the demo by the menu, and discards what is not saved.
func (h *hand) openDemo(r *Rig) {
	_ = r.Key("Escape")
	_ = r.Click(20, 12)
	_ = r.Key("Down", "Down", "Down", "Down", "Return", "shift+Tab", "Return")
}
