package ui

import (
	"testing"
)

func TestFileName(t *testing.T) {
	t.Parallel()
	if got := fileName(`Càrn: "Mòr" / day 1?`); got != "Càrn Mòr  day 1" {
		t.Errorf("fileName = %q", got)
	}
}
