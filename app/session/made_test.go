package session

import (
	"errors"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// memory is a store without a disk.
type memory struct {
	files map[string]*plan.Plan
	stamp map[string]Stamp
	fail  error
	n     int64
}

func newMemory() *memory { return &memory{files: map[string]*plan.Plan{}, stamp: map[string]Stamp{}} }

func (m *memory) Load(path string) (*plan.Plan, Stamp, error) {
	p, ok := m.files[path]
	if !ok {
		return nil, Stamp{}, errors.New("no such file")
	}
	return p, m.stamp[path], nil
}

func (m *memory) Save(path string, p *plan.Plan, over plan.Overwrite) (Stamp, error) {
	if m.fail != nil {
		return Stamp{}, m.fail
	}
	if !over.Expect.IsZero() && !m.stamp[path].Same(over.Expect) {
		return Stamp{}, ErrChangedOnDisk
	}
	m.put(path, p)
	return m.stamp[path], nil
}

func (m *memory) put(path string, p *plan.Plan) {
	m.n++
	m.files[path], m.stamp[path] = p, Stamp{Size: m.n, SHA256: [32]byte{byte(m.n)}}
}

// diary is a journal in memory.
type diary struct {
	steps  []string
	last   *plan.Plan
	path   string
	closed bool
}

func (d *diary) Document(path string, _ Stamp)    { d.path = path }
func (d *diary) Append(step string, p *plan.Plan) { d.steps, d.last = append(d.steps, step), p }
func (d *diary) Clear()                           { d.steps, d.last = nil, nil }
func (d *diary) Close() error                     { d.closed = true; return nil }
func today() time.Time                            { return time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC) }
func at(col, row float64) calib.PicturePt         { return calib.PicturePt{Col: col, Row: row} }

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// bench is a session with the sheet of an invented isle: 5 m to the pixel,
// north up, top-left corner at E 50 000, N 800 000 of the British grid.
func bench(t testing.TB) (*Session, *memory, *diary) {
	t.Helper()
	m, d := newMemory(), &diary{}
	s := New(m, d, today)
	must(t, s.OpenSheet(Picture{Path: "/maps/isle.png", Width: 2000, Height: 2000, DPI: 254}))
	must(t, s.SetGrid(geodesy.EPSG(27700)))
	for _, c := range []struct {
		at   calib.PicturePt
		text string
	}{{at(200, 200), "51000 799000"}, {at(1800, 1800), "59000 791000"}} {
		_, err := s.AddControlPoint(c.at, c.text)
		must(t, err)
	}
	return s, m, d
}

// mark adds a mark picked on the sheet.
func mark(t testing.TB, s *Session, name string, col, row float64) plan.ID {
	t.Helper()
	pos, err := s.PositionAt(at(col, row), 0.5)
	must(t, err)
	id, err := s.AddMark(name, pos)
	must(t, err)
	return id
}

// endAt returns an end at a point of the picture.
func endAt(t testing.TB, s *Session, col, row float64) plan.End {
	t.Helper()
	e, _, err := s.EndAt(at(col, row), Aim{PickSigmaPx: 0.5, SnapRadiusPx: 8})
	must(t, err)
	return e
}

// pillared is the sheet of bench with two pillars of a list as evidence, which check
// it.
func pillared(sheet plan.Sheet) plan.Sheet {
	for text, p := range map[string]calib.PicturePt{"NL 55260 98130": at(1052, 374), "NL 53510 92480": at(702, 1504)} {
		sheet = sheet.WithEvidence(calib.Evidence{Source: calib.FromList, At: p, SigmaPx: 0.5, Text: text})
	}
	return sheet
}
