package headless

import (
	"bytes"
	"fmt"
	"os"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

// onePlan returns the single plan named on the command line.
func onePlan(words []string) (string, error) {
	if len(words) != 1 {
		return "", usagef("name one plan, such as walk.legplan")
	}
	return words[0], nil
}

// demoName stands for the demo plan that the program carries, where there is
// no file of that name.
const demoName = "demo"

// loadPlan reads a plan file and says on the standard error what had to be
// mended in it. The picture of its sheet is not needed.
func loadPlan(name string, s streams) (*plan.Plan, error) {
	p, err := readPlan(name)
	if err != nil {
		return nil, err
	}
	n := newNotes(s)
	for _, text := range p.Mended {
		n.warn("mended "+text, text)
	}
	return p, nil
}

func readPlan(name string) (*plan.Plan, error) {
	if _, err := os.Stat(name); name == demoName && err != nil {
		return planfile.Decode(bytes.NewReader(demo.Plan()))
	}
	f, err := openfile.Open(name)
	if err != nil {
		return nil, fmt.Errorf("the plan cannot be read: %w", err)
	}
	defer f.Close()
	p, err := planfile.Decode(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}
