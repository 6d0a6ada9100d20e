package headless

import (
	"fmt"
	"os"

	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// onePlan returns the single plan named on the command line.
func onePlan(words []string) (string, error) {
	if len(words) != 1 {
		return "", usagef("name one plan, such as walk.legplan")
	}
	return words[0], nil
}

// loadPlan reads a plan file. The picture of its sheet is not needed.
func loadPlan(name string) (*plan.Plan, error) {
	f, err := os.Open(name)
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
