// Package memory reads what the system says of this process's resident
// memory, for the speed figures. It knows Linux; elsewhere everything is 0.
package memory

import (
	"os"
	"strconv"
	"strings"
)

// PeakMB is the most resident memory this process has had, in megabytes of
// 10⁶ bytes (VmHWM of proc(5)).
func PeakMB() float64 { return field("VmHWM:") }

// NowMB is the resident memory of this process, in megabytes of 10⁶ bytes
// (VmRSS of proc(5)).
func NowMB() float64 { return field("VmRSS:") }

func field(name string) float64 {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	return parse(string(text), name)
}

// parse finds a line such as "VmHWM:   12345 kB".
func parse(text, name string) float64 {
	for line := range strings.Lines(text) {
		rest, ok := strings.CutPrefix(line, name)
		if !ok {
			continue
		}
		kib, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(rest), "kB")), 64)
		if err != nil {
			return 0
		}
		return kib * 1024 / 1e6
	}
	return 0
}
