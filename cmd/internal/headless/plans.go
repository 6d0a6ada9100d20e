package headless

import (
	"bytes"
	"fmt"
	"os"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/planfile"
)

// onePlan returns the single plan named on the command line.
func onePlan(words []string) (string, error) {
	if len(words) != 1 {
		return "", usagef("name one plan, such as walk.legplan")
	}
	return words[0], nil
}

// demoName is the name for the demo plan in the program, if there is
// no file of that name.
const demoName = "demo"

// loadPlan reads a plan file and reports on the standard error what it had to
// correct in it, and which pictures it names outside its folder. It opens no
// picture: no subcommand that reads a plan needs one.
func loadPlan(name string, s streams) (*plan.Plan, planfile.Reach, error) {
	n := newNotes(s)
	p, reach, err := readPlan(name)
	if err != nil {
		return nil, reach, err
	}
	for _, text := range p.Mended {
		n.say("caution", "", text)
	}
	for _, picture := range reach.Ask {
		n.say("caution", "", fmt.Sprintf("%s is outside the plan's folder, so it was not opened: first open the plan in the window and agree to open this file", picture))
	}
	return p, reach, nil
}

// readPlan reads a plan file, and from where its files may open.
func readPlan(name string) (*plan.Plan, planfile.Reach, error) {
	if _, err := os.Stat(name); name == demoName && err != nil {
		p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
		return p, planfile.Reach{}, err
	}
	p, stamp, err := planfile.NewStore().Load(name)
	if err != nil {
		return nil, planfile.Reach{}, err
	}
	return p, planfile.OpenKnown().Reach(name, stamp, p), nil
}
