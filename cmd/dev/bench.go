package main

import (
	"context"
	"errors"
)

func runFigures(context.Context, *runner, []string) error { return errors.New("not yet") }
