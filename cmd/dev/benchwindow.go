package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"legwright/cmd/internal/benchsheet"
	"legwright/cmd/internal/xdisplay"
)

// windowGroups are the figures of the scripted window. A frame is what the main
// thread does for it, without the swap of the buffers; busy is the part of it in which
// the thread had a processor, which other programs on the machine hardly change.
func windowGroups() []group {
	var demo, big []figure
	for _, s := range []string{"frame_drag", "frame_pan", "frame_zoom"} {
		demo = append(demo, atMost(s+"_p99", "ms", 8))
		big = append(big, atMost(s+"_300_p99", "ms", 8), atMost(s+"_300_median", "ms", 3), atMost(s+"_300_ratio", "ms", 1.3),
			atMost(s+"_300_allocs", "a frame", 1.05), atMost(s+"_300_pause", "ms", 2))
	}
	list := append(actGroups(), []group{
		{figures: demo, do: frameFigures},
		{figures: big, do: bigFrameFigures},
		{figures: []figure{reported("start_first", "s"), atMost("start_second", "s", 2), atMost("start_memory", "MB", 150)}, do: startFigures},
	}...)
	size := benchsheet.Size(300)
	for _, k := range []struct {
		kind  benchsheet.Kind
		name  string
		bytes float64 // bytes per pixel that opening may take, besides 200 MB
	}{
		{benchsheet.JPEG444, "444", 3},
		{benchsheet.Progressive, "progressive", 5},
		{benchsheet.PNG, "png", 4.5},
		{benchsheet.TIFF, "tiff", 4.5},
		{benchsheet.JPEG, "jpeg", 1.5},
	} {
		bound := k.bytes*float64(size.X)*float64(size.Y)/1e6 + 200
		list = append(list, one(atMost("open_peak_"+k.name+"_300", "MB", bound), func(ctx context.Context, m *measuring) []float64 {
			m.err = os.RemoveAll(filepath.Join(m.home(), "legwright")) // the store
			return []float64{m.drive(ctx, 1, "-open", m.sheet(ctx, 300, k.kind))[0].PeakMB}
		}))
	}
	list = append(list, group{long: true, figures: []figure{reported("start_wine_first", "s"), reported("start_wine_second", "s")}, do: startUnderWine})
	settled := one(atMost("memory_settled_300", "MB", 350), settledFigure)
	settled.long = true
	return append(list, one(atMost("reopen_window_300", "s", 0.2), func(ctx context.Context, m *measuring) []float64 {
		sheet := m.sheet(ctx, 300, benchsheet.JPEG)
		m.drive(ctx, 1, "-open", sheet) // into the store
		return []float64{m.drive(ctx, 1, "-open", sheet)[0].SharpMs / 1000}
	}), settled)
}

// act is a scenario of keys and dial, and how many frames it must paint to be measured.
type act struct {
	name  string
	least int
}

// actGroups are a pan and a zoom over steepness and contours, the first words in foreign scripts,
// typing into a ledger of sixty legs, a line dragged while Teach shows it, the dial
// turned while Teach shows what lies there, and one of 225 control points nudged. Each has
// a window of its own, so that one name gives its figure within a minute.
func actGroups() (list []group) {
	for _, a := range []act{{"ground", 500}, {"ground_zoom", 500}, {"letters", 8}, {"type", 500}, {"arc", 500}, {"wedge", 500}, {"nudge", 500}} {
		name := "frame_" + a.name
		list = append(list, group{
			figures: []figure{atMost(name+"_p99", "ms", 8), atMost(name+"_busy_p99", "ms", 8)},
			do: func(ctx context.Context, m *measuring) {
				s := m.drive(ctx, 1, "-act", a.name, "-frames", "800")[0]
				if len(s.FramesMs) < a.least && m.err == nil {
					m.err = fmt.Errorf("%s painted %d frames, want %d or more", a.name, len(s.FramesMs), a.least)
				}
				m.put(name+"_p99", quantile(s.FramesMs, 0.99))
				m.put(name+"_busy_p99", quantile(s.BusyMs, 0.99))
			},
		})
	}
	return list
}

// said is a line that the scripted window prints, about a scenario, an opening or
// its memory.
type said struct {
	Name                        string
	FramesMs, BusyMs            []float64
	AllocsAStep, LongestPauseMs float64
	SharpMs, PeakMB, NowMB      float64
}

// drive runs the scripted window on its own display and returns the lines it
// printed, which must be as many as given.
func (m *measuring) drive(ctx context.Context, lines int, args ...string) []said {
	list := make([]said, lines)
	if m.err != nil {
		return list
	}
	display, err := xdisplay.Start(ctx, 1400, 900)
	if err != nil {
		m.err = err
		return list
	}
	defer display.Close()
	var out bytes.Buffer
	_, m.err = m.start(ctx, display, &out, args...)
	dec := json.NewDecoder(&out)
	for i := 0; i < lines && m.err == nil; i++ {
		m.err = dec.Decode(&list[i])
	}
	return list
}

// start runs the scripted window and returns its seconds from start to end.
// Settings and store stay from one window to the next; the journal does not,
// because a scripted window ends without asking.
func (m *measuring) start(ctx context.Context, display *xdisplay.Display, out *bytes.Buffer, args ...string) (float64, error) {
	window, state := m.scripted(ctx), filepath.Join(m.dir, "state")
	if err := errors.Join(m.err, os.RemoveAll(state), os.MkdirAll(m.home(), 0o700)); err != nil {
		return 0, err
	}
	cmd := m.r.command(ctx, window, args...)
	cmd.Env = append(display.Env(), "HOME="+m.home(), "XDG_CONFIG_HOME="+m.home(), "XDG_CACHE_HOME="+m.home(),
		"XDG_STATE_HOME="+state, "LEGWRIGHT_SIZE=1400x900", "FYNE_SCALE=1")
	cmd.Stdout = out
	return seconds(cmd)
}

// scripted builds the scripted window with the patched loop.
func (m *measuring) scripted(ctx context.Context) string {
	const pkg = "./cmd/internal/benchwindow"
	if m.built[pkg] == "" {
		return m.program(ctx, pkg, m.patched(ctx))
	}
	return m.built[pkg]
}

func (m *measuring) home() string { return filepath.Join(m.dir, "home") }

// scenarios runs drag, pan and zoom.
func (m *measuring) scenarios(ctx context.Context, args ...string) []said {
	list := m.drive(ctx, 3, args...)
	for _, s := range list {
		if len(s.FramesMs) < 500 && m.err == nil {
			m.err = fmt.Errorf("%s painted %d frames, want 500 or more", s.Name, len(s.FramesMs))
		}
	}
	return list
}

func frameFigures(ctx context.Context, m *measuring) {
	for _, s := range m.scenarios(ctx) {
		m.put("frame_"+s.Name+"_p99", quantile(s.FramesMs, 0.99))
	}
}

// bigFrameFigures drives the bench on 3 and on 300 megapixels at the same scale
// and compares the frames.
func bigFrameFigures(ctx context.Context, m *measuring) {
	var runs [2][]said
	for i, megapixels := range []int{3, 300} {
		sheet := m.sheet(ctx, megapixels, benchsheet.JPEG)
		m.drive(ctx, 1, "-open", sheet) // into the store
		runs[i] = m.scenarios(ctx, "-frames", "900", sheet)
	}
	for i, big := range runs[1] {
		small, name := runs[0][i], "frame_"+big.Name+"_300_"
		m.put(name+"p99", quantile(big.FramesMs, 0.99))
		m.put(name+"median", median(big.FramesMs))
		m.put(name+"ratio", median(big.FramesMs), median(small.FramesMs))
		m.put(name+"allocs", big.AllocsAStep, small.AllocsAStep)
		m.put(name+"pause", big.LongestPauseMs)
	}
}

// settledFigure moves over 300 megapixels for five minutes and subtracts an empty
// window's memory from the memory then in use.
func settledFigure(ctx context.Context, m *measuring) []float64 {
	empty := m.drive(ctx, 1, "-empty", "-hold", "10s")[0]
	moved := m.drive(ctx, 1, "-wander", "5m", m.sheet(ctx, 300, benchsheet.JPEG))[0]
	return []float64{moved.NowMB - empty.NowMB}
}
