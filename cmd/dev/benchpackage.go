package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"

	"legwright/assets/release"
)

// errNotMade: there is no package of this version to measure.
var errNotMade = errors.New("not made: run go run ./cmd/dev package")

// packageGroups are the sizes of this version's packages, of those that were made.
func packageGroups() (list []group) {
	for _, p := range []struct{ name, end string }{
		{"package_deb", "*.deb"}, {"package_rpm", "*.rpm"}, {"package_tar", "*.tar.gz"}, {"package_zip", "*.zip"}, {"package_setup", "*-setup.exe"},
	} {
		size := atMost(p.name, "MB", maxPackageBytes/1e6)
		size.mayLack = true
		list = append(list, one(size, func(_ context.Context, m *measuring) []float64 {
			made, err := filepath.Glob(filepath.Join(m.r.root, "out", "packages", "legwright?"+release.Version+p.end))
			if err != nil || len(made) == 0 {
				m.err = errors.Join(err, errNotMade)
				return nil
			}
			file, err := os.Stat(made[0])
			if err != nil {
				m.err = err
				return nil
			}
			return []float64{float64(file.Size()) / 1e6}
		}))
	}
	return list
}
