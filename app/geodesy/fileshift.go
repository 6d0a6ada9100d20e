package geodesy

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync/atomic"
)

// shiftShelf holds the files of shifts that the person supplied, by datum.
type shiftShelf struct {
	files atomic.Pointer[map[string]*NTv2]
}

// fileDatums are the datums of the catalogue for which a file may be supplied,
// with the beginnings of the names that files call them by.
func fileDatums() map[string][]string {
	return map[string][]string{
		"DHDN":   {"DHDN"},
		"NAD27":  {"NAD27"},
		"CH1903": {"CH1903"},
		"BD72":   {"BD72", "BELGE72"},
	}
}

// likeWGS84 are the datums that a file may lead to: those that are taken as
// WGS 84 elsewhere in the catalogue.
func likeWGS84() []string {
	return []string{"ETRS89", "WGS84", "NAD83", "ETRF89", "CHTRF95", "BEREF", "CSRS"}
}

// SupplyShifts puts a file of shifts into use for every grid of the datum it
// leads from: 31466 to 31469 (DHDN), 26701 to 26722 (NAD27), 21781 (CH1903) or
// 31370 (BD72). Outside the file's ground the published shift serves on, and
// every Shift says by its name which of them served. A second file for a datum
// takes the place of the first. The files serve the whole program; readings
// made before do not change. It returns the datum, or an error for a
// file that no grid of the catalogue can use.
func SupplyShifts(n *NTv2) (datum string, err error) {
	if err := n.leadsHome(); err != nil {
		return "", err
	}
	if datum = fileDatum(n.from); datum == "" {
		return "", fmt.Errorf("the file leads from %q, and no grid of the catalogue is on that datum with a file to wait for: wanted DHDN, NAD27, CH1903 or BD72", n.from)
	}
	catalogue().shifts.put(datum, n)
	return datum, nil
}

// SupplyShiftFile is SupplyShifts for a file with a name, which then also
// serves the grids by definition that ask for it with +nadgrids=. It returns
// what the file serves, for people. A file of a datum that the catalogue does
// not wait for is taken for definitions alone.
func SupplyShiftFile(name string, n *NTv2) (serves string, err error) {
	if err := n.leadsHome(); err != nil {
		return "", err
	}
	name = cleanFile(name)
	catalogue().shifts.put(fileKey(name), n)
	if datum, err := SupplyShifts(n); err == nil {
		return datum, nil
	}
	return "definitions that name " + name, nil
}

// fileKey is the key of a file by its name; no datum is called so.
func fileKey(name string) string { return "file " + strings.ToLower(name) }

// leadsHome refuses a file that does not lead to a datum taken as WGS 84.
func (n *NTv2) leadsHome() error {
	to := strings.ToUpper(strings.ReplaceAll(n.to, " ", ""))
	if slices.ContainsFunc(likeWGS84(), func(name string) bool { return strings.HasPrefix(to, name) }) {
		return nil
	}
	return fmt.Errorf("the file leads from %q to %q, and wanted is one that leads to ETRS89, WGS84 or NAD83", n.from, n.to)
}

func (s *shiftShelf) put(key string, n *NTv2) {
	for {
		old := s.files.Load()
		files := map[string]*NTv2{}
		if old != nil {
			maps.Copy(files, *old)
		}
		files[key] = n
		if s.files.CompareAndSwap(old, &files) {
			return
		}
	}
}

// WithdrawShifts takes all supplied files out of use.
func WithdrawShifts() { catalogue().shifts.files.Store(nil) }

func fileDatum(from string) string {
	name := strings.ToUpper(strings.ReplaceAll(from, " ", ""))
	for datum, beginnings := range fileDatums() {
		for _, b := range beginnings {
			if strings.HasPrefix(name, b) && !strings.HasPrefix(name, "CH1903+") {
				return datum
			}
		}
	}
	return ""
}

func (s *shiftShelf) file(datum string) *NTv2 {
	if files := s.files.Load(); files != nil {
		return (*files)[datum]
	}
	return nil
}

// fileShift uses a supplied file of shifts where it reaches, and another shift
// elsewhere.
type fileShift struct {
	name string
	rest datum
}

func (f fileShift) fromWGS84(s *System, ll LatLon) (Grid, Factors, Shift, error) {
	if file := catalogue().shifts.file(f.name); file != nil {
		if own, ok := file.Backward(ll); ok {
			g, factors, err := s.Project(own)
			return g, factors, file.shift(own), err
		}
	}
	return f.rest.fromWGS84(s, ll)
}

func (f fileShift) toWGS84(s *System, g Grid) (LatLon, Shift, error) {
	if file := catalogue().shifts.file(f.name); file != nil {
		own, _, err := s.Unproject(g)
		if err != nil {
			return LatLon{}, Shift{}, err
		}
		if wgs, ok := file.Forward(own); ok {
			return wgs, file.shift(own), nil
		}
	}
	return f.rest.toWGS84(s, g)
}

// unknownFileM is σ per axis of a file that does not state its accuracy at a
// place (our own estimate; the surveys that publish such files claim less than
// 1 m).
const unknownFileM = 0.5

// shift names the file and states its accuracy at a place of its first datum,
// with that of taking the second for WGS 84.
func (n *NTv2) shift(own LatLon) Shift {
	s, _ := n.shiftAt(own)
	m := math.Max(s.latM, s.lonM)
	if !(m > 0 && m < 100) {
		m = unknownFileM
	}
	return Shift{
		Name:   fmt.Sprintf("NTv2 file, %s to %s", n.from, n.to),
		SigmaM: math.Hypot(m, nullShiftSigmaM),
	}
}
