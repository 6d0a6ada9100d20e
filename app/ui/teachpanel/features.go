package teachpanel

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/app/teach"
)

// features are those that were clicked and are not marks. They belong to the lesson: the
// plan knows nothing of them.
type features struct {
	list []teach.Feature
	last int // number in the name of the last one
}

// mostFeatures is how many there may be.
const mostFeatures = 30

func (f *features) full() bool { return len(f.list) >= mostFeatures }

// add adds a feature and returns its name.
func (f *features) add(pos plan.Position) string {
	f.last++
	name := fmt.Sprintf("feature %d", f.last)
	f.list = append(f.list, teach.Feature{Name: name, Position: pos})
	return name
}

// has reports whether a key is that of one of the features.
func (f *features) has(key string) bool { return f.find(key) >= 0 }

func (f *features) find(key string) int {
	name, ok := strings.CutPrefix(key, featureKey)
	if !ok {
		return -1
	}
	return slices.IndexFunc(f.list, func(one teach.Feature) bool { return one.Name == name })
}

// remove takes a feature away, and reports whether it was one.
func (f *features) remove(key string) bool {
	i := f.find(key)
	if i >= 0 {
		f.list = slices.Delete(f.list, i, i+1)
	}
	return i >= 0
}

// asNow are the features as their sheets are calibrated now.
func (f *features) asNow(n *Needs) []teach.Feature {
	out := slices.Clone(f.list)
	for i := range out {
		out[i].Position = asNow(n, out[i].Position)
	}
	return out
}

// errFullOfFeatures says that there are as many as there may be.
func errFullOfFeatures() error {
	return fmt.Errorf("there are %d features already: delete one before you add another", mostFeatures)
}
