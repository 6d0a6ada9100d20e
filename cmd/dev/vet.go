package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// vetSystems vets for other systems whatever needs no C compiler of theirs.
func (r *runner) vetSystems(ctx context.Context, systems ...string) error {
	var failed []error
	for _, system := range systems {
		of := *r
		of.env = append(slices.Clone(r.env), "GOOS="+system, "CGO_ENABLED=1")
		text, err := of.capture(ctx, "go", "list", "-e", "-deps", "-test", "-tags", buildTag, "-json=ImportPath,Deps,CgoFiles,Standard,Module", "./...")
		if err != nil {
			return err
		}
		packages, err := withoutC(text)
		if err != nil {
			return err
		}
		fmt.Fprintf(r.out, "%d packages for %s\n", len(packages), system)
		of.env = append(of.env, "CGO_ENABLED=0")
		failed = append(failed, of.do(ctx, "go", slices.Concat([]string{"vet", "-tags", buildTag}, packages)...))
	}
	return errors.Join(failed...)
}

// withoutC reads what go list prints of packages, their tests and all they are built from,
// and returns the module's packages that are built and tested without C.
func withoutC(text string) ([]string, error) {
	type listed struct {
		ImportPath     string
		Deps, CgoFiles []string
		Standard       bool
		Module         *struct{ Main bool }
	}
	var own []listed
	needs := map[string]bool{}
	for dec := json.NewDecoder(strings.NewReader(text)); ; {
		var p listed
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if len(p.CgoFiles) > 0 && !p.Standard {
			needs[p.ImportPath] = true
		}
		if p.Module != nil && p.Module.Main {
			own = append(own, p)
		}
	}
	free := map[string]bool{}
	for _, p := range own {
		// "a [a.test]" and "a_test [a.test]" are the tests of a, as is the program "a.test".
		path, test, _ := strings.Cut(strings.TrimSuffix(p.ImportPath, "]"), " [")
		if test != "" {
			path = test
		}
		path = strings.TrimSuffix(path, ".test")
		clean := !needs[p.ImportPath] && !slices.ContainsFunc(p.Deps, func(d string) bool { return needs[d] })
		if before, ok := free[path]; !ok || before {
			free[path] = clean
		}
	}
	maps.DeleteFunc(free, func(_ string, clean bool) bool { return !clean })
	if len(free) == 0 {
		return nil, errors.New("go list names no package without C")
	}
	return slices.Sorted(maps.Keys(free)), nil
}
