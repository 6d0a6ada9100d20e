package geodesy

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
)

// worst is the greatest difference that a test found of one kind: what the
// comparisons call it by their last word, such as "easting".
type worst struct {
	Test, What string
	Off        float64 // in the unit of the comparison
	OverTol    float64 // in its tolerance
	Count      int     // of comparisons
}

// differences collects what near compares, where LEGWRIGHT_FIGURES names a file
// for the worst of them.
type differences struct {
	sync.Mutex
	seen map[[2]string]*worst
}

// compared is filled by every test that runs.
var compared = differences{seen: map[[2]string]*worst{}}

func (d *differences) note(test, what string, off, tol float64) {
	if os.Getenv("LEGWRIGHT_FIGURES") == "" {
		return
	}
	words := strings.Fields(what)
	last := words[len(words)-1]
	if last == "m" && len(words) > 1 { // "latitude m"
		last = words[len(words)-2] + " m"
	}
	d.Lock()
	defer d.Unlock()
	w := d.seen[[2]string{test, last}]
	if w == nil {
		w = &worst{Test: test, What: last}
		d.seen[[2]string{test, last}] = w
	}
	w.Count++
	if math.IsNaN(off) {
		off = math.Inf(1)
	}
	w.Off, w.OverTol = max(w.Off, math.Abs(off)), max(w.OverTol, math.Abs(off)/tol)
}

// write writes the worst as JSON, in the order of their tests.
func (d *differences) write(file string) error {
	list := []worst{}
	for _, w := range d.seen {
		w.Off, w.OverTol = min(w.Off, math.MaxFloat64), min(w.OverTol, math.MaxFloat64) // JSON knows no infinity
		list = append(list, *w)
	}
	slices.SortFunc(list, func(a, b worst) int { return cmp.Or(cmp.Compare(a.Test, b.Test), cmp.Compare(a.What, b.What)) })
	text, err := json.Marshal(list)
	if err != nil {
		return err
	}
	return os.WriteFile(file, text, 0o600)
}

// TestMain leaves the worst differences where LEGWRIGHT_FIGURES says.
func TestMain(m *testing.M) {
	code := m.Run()
	if file := os.Getenv("LEGWRIGHT_FIGURES"); file != "" {
		if err := compared.write(file); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}
