package headless

import (
	"legwright/app/leg"
	"legwright/mapio/planfile"
)

// readPlanGround reads the one plan named on the command line, over the heights of its
// terrain files.
func readPlanGround(words []string, s streams) (*leg.Reader, error) {
	name, err := onePlan(words)
	if err != nil {
		return nil, err
	}
	r, _, err := readGround(name, s)
	return r, err
}

// readGround reads a plan over the heights of its terrain files, and which of its files may open.
func readGround(name string, s streams) (*leg.Reader, planfile.Reach, error) {
	p, reach, err := loadPlan(name, s)
	if err != nil {
		return nil, reach, err
	}
	reader, err := leg.NewReader(p)
	if err != nil {
		return nil, reach, err
	}
	return withGround(reader, reach, s), reach, nil
}

// readPlanCommand reads the command line of a command that takes one plan and --json.
func readPlanCommand(c command, help string, args []string, s streams) (r *leg.Reader, asJSON bool, err error) {
	o := newOptions(c, help)
	o.BoolVar(&asJSON, "json", false, "write JSON")
	words, err := o.read(args, s)
	if err == nil {
		r, err = readPlanGround(words, s)
	}
	return r, asJSON, err
}
