package headless

import (
	"fmt"
	"os"
	"path/filepath"

	"legwright/app/geodesy"
)

// shiftsFlag takes files of datum shifts into use.
type shiftsFlag struct{}

func (shiftsFlag) String() string { return "" }

func (shiftsFlag) Set(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("the shifts cannot be read: %w", err)
	}
	defer f.Close()
	file, err := geodesy.ReadNTv2(f)
	if err != nil {
		return err
	}
	_, err = geodesy.SupplyShiftFile(filepath.Base(name), file)
	return err
}

// shifts adds the flag --shifts.
func (o *options) shifts() {
	o.Var(shiftsFlag{}, "shifts", "an NTv2 `FILE` of shifts for DHDN, NAD27, CH1903, BD72, or a definition with +nadgrids=FILE; may be repeated")
}
