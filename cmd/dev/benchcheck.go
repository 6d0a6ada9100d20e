package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// checkGroups are the figures of what the program says of made sheets, right and
// wrong ones. Each is the worst of three runs: of a fixed seed and of two that come
// from the commit, so that nobody can have tuned the program to them.
func checkGroups() []group {
	return []group{
		checkGroup("slips", atMost("check_slips_silent_off", "sheets", 0)),
		checkGroup("all", atMost("check_all_checked_off", "sheets", 0)),
		checkGroup(
			"evidence", atLeast("check_sound_checked_least", "%", 95), atMost("check_checked_error_beyond", "%", 1),
			atMost("check_checked_within_tenth", "m", 300), atMost("check_checked_within_second", "m", 60),
			atMost("check_checked_within_6", "m", 160), atMost("check_checked_within_8", "m", 30), atMost("check_checked_within_10", "m", 30),
		),
		checkGroup(
			"sound", atMost("check_sound_scans_accused", "%", 1), atMost("check_sound_photos_accused", "%", 2),
			atMost("check_sound_open", "%", 5), reported("check_sound_wide_open", "%"),
		),
		checkGroup(
			"cover", atLeast("check_stated95_mixed_least", "%", 93), atMost("check_stated95_mixed_most", "%", 99),
			atLeast("check_stated95_paper_least", "%", 85), atLeast("check_stated95_loose_least", "%", 85),
			atLeast("check_trusted_least", "%", 100),
		),
		checkGroup(
			"names", atLeast("check_names_flat_least", "%", 85), atLeast("check_names_photo_least", "%", 80),
			atMost("check_names_wrong", "%", 0.5), atMost("check_names_obeyed_off", "sheets", 0),
		),
		checkGroup("chosen", atMost("check_chosen_settled", "sheets", 0)),
		// On shrunk paper no wider than a fit without paper's priors made them, on flat
		// paper at most 1.8 times: 4.58 and 3.88 m, 14.5 and 4.66 m at 4 and 6 points.
		checkGroup(
			"price", atMost("check_half_width_flat_4", "m", 1.8*4.58), atMost("check_half_width_flat_6", "m", 1.8*3.88),
			atMost("check_half_width_shrunk_4", "m", 14.5), atMost("check_half_width_shrunk_6", "m", 4.66),
		),
		checkGroup("files", atMost("check_files_checked", "files", 0)),
		checkGroup(
			"grid", atLeast("check_grid_clean_ellipses", "%", 92), atLeast("check_grid_hard_ellipses", "%", 92),
			atLeast("check_grid_tenths_named", "%", 90), atMost("check_grid_wrong", "pictures", 0),
		),
		checkGroup("typed", atMost("check_typed_elsewhere", "positions", 0)),
		checkGroup(
			"time", atMost("check_fit_judge_12", "ms", 5), atMost("check_fit_judge_photo_12", "ms", 5), atMost("check_fit_judge_225", "ms", 60),
			atMost("check_joint_12", "ms", 0.2), atMost("check_joint_225", "ms", 1),
		),
	}
}

// reported is a figure without a bound.
func reported(name, unit string) figure { return figure{Name: name, Unit: unit} }

const (
	checkPrefix  = "check_"
	checkProgram = "./cmd/internal/checkrows"
	fixedSeed    = 20261128
)

// checkGroup is a row of the program that measures made sheets.
func checkGroup(row string, figures ...figure) group {
	return group{figures: figures, do: func(ctx context.Context, m *measuring) {
		bin := m.program(ctx, checkProgram)
		seeds, err := m.r.commitSeeds(ctx)
		if m.err = errors.Join(m.err, err); m.err != nil {
			return
		}
		worst := map[string]float64{}
		for i, seed := range append([]uint64{fixedSeed}, seeds...) {
			share := "1"
			switch row { // these take long
			case "slips", "grid":
				share = []string{"0.6", "0.2", "0.2"}[i]
			case "names":
				share = "0.4"
			}
			text, err := m.r.capture(ctx, bin, "-rows", row, "-seed", strconv.FormatUint(seed, 10), "-share", share)
			if err == nil {
				err = gather(m.r.errw, text, seed, figures, worst)
			}
			if m.err = errors.Join(m.err, err); m.err != nil {
				return
			}
		}
		for _, f := range figures {
			if v, ok := worst[f.Name]; ok {
				m.put(f.Name, v)
			}
		}
	}}
}

// gather reads the lines of one run, keeps the worst value of each figure and shows a
// missed one by paper and kind.
func gather(w io.Writer, text string, seed uint64, figures []figure, worst map[string]float64) error {
	for dec := json.NewDecoder(strings.NewReader(text)); ; {
		var got struct {
			Name, Breakdown string
			Value           float64
			Count           int
		}
		if err := dec.Decode(&got); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		for _, f := range figures {
			if f.Name != checkPrefix+got.Name {
				continue
			}
			if old, ok := worst[f.Name]; !ok || (f.Min != nil) == (got.Value < old) {
				worst[f.Name] = got.Value
			}
			fmt.Fprintf(w, "seed %d: %s %.4g of %d\n", seed, f.Name, got.Value, got.Count)
			if f.measured([]float64{got.Value}, nil).Missed {
				fmt.Fprint(w, got.Breakdown)
			}
		}
	}
}

// commitSeeds returns two seeds that come from the commit's hash.
func (r *runner) commitSeeds(ctx context.Context) ([]uint64, error) {
	hash, err := r.capture(ctx, "git", "rev-parse", "HEAD")
	if err != nil {
		return nil, fmt.Errorf("the seeds come from the commit's hash: %w", err)
	}
	return seedsOf(strings.TrimSpace(hash))
}

// seedsOf takes the first two runs of eight hexadecimal digits of a hash.
func seedsOf(hash string) ([]uint64, error) {
	if len(hash) < 16 {
		return nil, fmt.Errorf("%q is no hash of a commit", hash)
	}
	a, errA := strconv.ParseUint(hash[:8], 16, 64)
	b, errB := strconv.ParseUint(hash[8:16], 16, 64)
	return []uint64{a, b}, errors.Join(errA, errB)
}
