package planfile_test

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/planfile"
)

// Everything here is found by reflection, so that a list that is added to a plan, or a
// field that is added to a thing, is tested from then on: that it is written and read,
// counted, checked, moved with its sheet, snapped to, named and removed.

// ground is a calibrated sheet on invented ground: 5 m to the pixel.
func ground() plan.Sheet {
	s := plan.Sheet{ID: "sheet-1", Picture: "isle.png", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700), DPI: 254}
	for _, c := range [][4]float64{{200, 200, 51_000, 799_000}, {1800, 1800, 59_000, 791_000}} {
		s = s.WithPoint(calib.ControlPoint{At: calib.PicturePt{Col: c[0], Row: c[1]}, Ref: geodesy.Grid{E: c[2], N: c[3]}})
	}
	return s
}

// filler fills a thing with values that can be, each another one.
type filler struct {
	t     *testing.T
	n     int
	sheet plan.Sheet
	c     *calib.Calibration
}

func (f *filler) fill(v reflect.Value, name string) {
	f.n++
	switch x := v.Addr().Interface().(type) {
	case *plan.ID:
		*x = plan.ID(fmt.Sprint("id-", f.n))
		return
	case *plan.Position:
		*x = plan.PickedAt(f.sheet, f.c, calib.PicturePt{Col: 300 + 10*float64(f.n), Row: 400 + 7*float64(f.n*f.n%97)}, 0.5) // no three on one line
		return
	case *plan.End:
		f.fill(reflect.ValueOf(&x.Position).Elem(), name)
		return
	case *pace.Ground:
		*x = pace.Rough
		return
	case *plan.HazardKind:
		*x = plan.Water
		return
	case *plan.Crossing:
		*x = plan.Ford
		return
	case *plan.HavenKind:
		*x = plan.LockedShelter
		return
	case *plan.LineKind:
		*x = plan.WallLine
		return
	case *plan.Ticks:
		*x = plan.Ticks{Contours: true, Crags: true, Water: true, End: true, Of: fmt.Sprintf("%08x", f.n)}
		return
	case *geodesy.LatLon:
		*x = geodesy.DegLatLon(50+float64(f.n)/100, -7)
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprint(name, " ", f.n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(float64(f.n) / 64)
	case reflect.Int:
		v.SetInt(1)
	case reflect.Slice:
		n := 2
		if v.Type() == reflect.TypeFor[[]plan.Position]() {
			n = 3 // an outline has at least as many
		}
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range v.Len() {
			f.fill(v.Index(i), name)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(v.Field(i), v.Type().Field(i).Name)
		}
	default:
		f.t.Fatalf("%s is a %v: teach the filler to fill one", name, v.Type())
	}
}

// thingLists are the fields of a plan that hold things.
func thingLists() (names []string) {
	for i := range reflect.TypeFor[plan.Plan]().NumField() {
		f := reflect.TypeFor[plan.Plan]().Field(i)
		if f.Type.Kind() == reflect.Slice && f.Name != "Sheets" && f.Name != "Terrain" && f.Name != "Mended" {
			names = append(names, f.Name)
		}
	}
	return names
}

func listOf(p *plan.Plan, name string) reflect.Value {
	return reflect.ValueOf(p).Elem().FieldByName(name)
}

// everything is a plan with two things in every list, every field of them filled.
func everything(t *testing.T) *plan.Plan {
	t.Helper()
	sheet := ground()
	c, err := sheet.Calibration()
	must(t, err)
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 25}).SetSheet(sheet)
	f := &filler{t: t, sheet: sheet, c: c}
	for _, name := range thingLists() {
		f.fill(listOf(p, name), name)
	}
	p = p.FillEnds()
	must(t, p.Validate())
	return p
}

func written(t *testing.T, p *plan.Plan) string {
	t.Helper()
	var text bytes.Buffer
	must(t, planfile.Encode(&text, p))
	return text.String()
}

func TestEveryKindIsWrittenAndRead(t *testing.T) {
	t.Parallel()
	p := everything(t)
	q, err := planfile.Decode(strings.NewReader(written(t, p)))
	must(t, err)
	for _, name := range thingLists() {
		if got, want := listOf(q, name).Interface(), listOf(p, name).Interface(); !reflect.DeepEqual(got, want) {
			t.Errorf("%s comes back as\n%+v\nwant\n%+v", name, got, want)
		}
	}
}

func TestEveryKindIsFoundByID(t *testing.T) {
	t.Parallel()
	p := everything(t)
	kinds := map[plan.Kind]string{}
	for _, name := range thingLists() {
		list := listOf(p, name)
		for i := range list.Len() {
			id, ok := list.Index(i).FieldByName("ID").Interface().(plan.ID)
			thing, found := p.ThingByID(id)
			if !ok || !found || thing.Index != i {
				t.Errorf("%s: thing %d is found as %+v, %v", name, i, thing, found)
				continue
			}
			if other, taken := kinds[thing.Kind]; taken && other != name {
				t.Errorf("%s and %s are of one kind", name, other)
			}
			kinds[thing.Kind] = name
		}
	}
	if len(kinds) != len(plan.Kinds()) {
		t.Errorf("the plan's lists are %v, and there are %d kinds", kinds, len(plan.Kinds()))
	}
}

// leaves calls f for every field of a thing at any depth, with a name for people.
func leaves(v reflect.Value, name string, f func(v reflect.Value, name string)) {
	if _, whole := v.Interface().(plan.Position); whole {
		f(v, name)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			leaves(v.Field(i), name+"."+v.Type().Field(i).Name, f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			leaves(v.Index(i), fmt.Sprintf("%s[%d]", name, i), f)
		}
	default:
		f(v, name)
	}
}

// Every text with a control character, every position on no grid, every ID that is
// there twice and every list that is too long is refused.
func TestEveryKindIsValidated(t *testing.T) {
	t.Parallel()
	for _, name := range thingLists() {
		count := 0
		leaves(listOf(everything(t), name), name, func(reflect.Value, string) { count++ })
		for spoil := range count {
			p, i := everything(t), 0
			leaves(listOf(p, name), name, func(v reflect.Value, leaf string) {
				if i++; i-1 != spoil {
					return
				}
				switch x := v.Addr().Interface().(type) {
				case *plan.Position:
					x.Grid.E = math.NaN()
				case *plan.ID:
					switch {
					case strings.HasSuffix(leaf, ".Mark"):
						*x = "nowhere"
					case strings.HasSuffix(leaf, ".Along"): // a line that is gone is no line
						*x = plan.ID(strings.Repeat("x", 65))
					default:
						*x = ""
					}
				case *pace.Ground:
					*x = "lava"
				case *plan.HazardKind:
					*x = "lava"
				case *plan.Crossing:
					*x = "leap"
				case *plan.HavenKind:
					*x = "castle"
				case *plan.LineKind:
					*x = "ley"
				case *string:
					*x = "a\x00b"
				default:
					if v.Kind() != reflect.Float64 {
						return // a choice or a yes and no: any value can be
					}
					v.SetFloat(math.NaN())
				}
				if p.Validate() == nil {
					t.Errorf("%s is spoilt, and the plan is valid", leaf)
				}
			})
		}
		p := everything(t)
		listOf(p, name).Index(1).FieldByName("ID").Set(listOf(p, name).Index(0).FieldByName("ID"))
		if p.Validate() == nil {
			t.Errorf("%s: an ID that is there twice is valid", name)
		}
		p = everything(t)
		long := reflect.MakeSlice(listOf(p, name).Type(), 20_001, 20_001)
		listOf(p, name).Set(long)
		if err := p.Validate(); err == nil || !strings.Contains(err.Error(), "at most") {
			t.Errorf("%s: 20001 of them: %v", name, err)
		}
	}
}

// A sheet that is calibrated anew takes every position along, the old plan stays as it
// was, and so do the sheets and grids that count as used.
func TestEveryKindMovesWithItsSheet(t *testing.T) {
	t.Parallel()
	p := everything(t)
	before := written(t, p)
	sheet := ground()
	for i, c := range sheet.Points {
		c.Ref.E += 1000
		sheet = sheet.SetPoint(i, c)
	}
	q := p.SetSheet(sheet)
	for _, name := range thingLists() {
		var was []plan.Position
		leaves(listOf(p, name), name, func(v reflect.Value, _ string) {
			if pos, ok := v.Interface().(plan.Position); ok {
				was = append(was, pos)
			}
		})
		leaves(listOf(q, name), name, func(v reflect.Value, leaf string) {
			if pos, ok := v.Interface().(plan.Position); ok {
				if d := pos.Grid.E - was[0].Grid.E; math.Abs(d-1000) > 1e-6 {
					t.Errorf("%s moved by %v m, want 1000", leaf, d)
				}
				was = was[1:]
			}
		})
	}
	if written(t, p) != before {
		t.Error("the plan from before the calibration changed")
	}
	for _, name := range thingLists() {
		leaves(listOf(everything(t), name), name, func(_ reflect.Value, leaf string) {
			p := everything(t)
			leaves(listOf(p, name), name, func(v reflect.Value, other string) {
				if pos, ok := v.Addr().Interface().(*plan.Position); ok && leaf == other {
					pos.Sheet, pos.Code = "sheet-7", geodesy.EPSG(29903)
					if grids := p.Grids(); !p.SheetsUsed()["sheet-7"] || len(grids) != 2 || p.NextID(plan.OfMark) == "" || p.NextSheetID() != "sheet-8" {
						t.Errorf("%s: its sheet counts as used: %v; grids %v; the next sheet is %s", leaf, p.SheetsUsed(), grids, p.NextSheetID())
					}
				}
			})
		})
	}
}

// The session selects, names, snaps to, moves and removes things of every kind, and
// tells their own aspect.
func TestEveryKindAtTheSession(t *testing.T) {
	t.Parallel()
	now := func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	p := everything(t)
	for thing := range p.Things {
		s := session.New(nil, nil, now)
		must(t, s.Use(p))
		var told session.Aspect
		s.OnChange(func(c session.Change) { told = c.What })
		if s.Select(thing.ID); s.Selection().Kind != thing.Kind || told != session.SelectionChanged {
			t.Errorf("%s selects %+v, told %b", thing.ID, s.Selection(), told)
		}
		for n, e := range thing.Points {
			c, err := s.Calibration()
			must(t, err)
			if _, ok := s.Snap(c.ToPicture(p.Resolve(e).Grid), 1); !ok {
				t.Errorf("%s: nothing to snap to at its point %d", thing.ID, n)
			}
			to, err := s.PositionAt(calib.PicturePt{Col: 1700 + 10*float64(n%2), Row: 300 + float64(n)}, 0.5)
			must(t, err)
			must(t, s.MovePoint(thing.ID, n, plan.AtPosition(to)))
			if moved, _ := s.Plan().ThingByID(thing.ID); !moved.Points[n].Position.Same(to) || !told.Has(session.AspectOf(thing.Kind)) {
				t.Errorf("%s: point %d is at %v, want %v; told %b", thing.ID, n, moved.Points[n].Position.Grid, to.Grid, told)
			}
		}
		must(t, s.Rename(thing.ID, "Another name"))
		if got, _ := s.Plan().ThingByID(thing.ID); got.Name != "Another name" || !told.Has(session.AspectOf(thing.Kind)) {
			t.Errorf("%s is called %q, told %b", thing.ID, got.Name, told)
		}
		must(t, s.Remove(thing.ID))
		if _, there := s.Plan().ThingByID(thing.ID); there || !told.Has(session.AspectOf(thing.Kind)|session.SelectionChanged) {
			t.Errorf("%s is still there, or told %b", thing.ID, told)
		}
		for s.Undo() {
		}
		if s.Plan() != p {
			t.Errorf("%s: undo does not lead back", thing.ID)
		}
	}
}

// An outline that crosses itself has no inside that anybody could name: such a file is
// refused.
func TestAnOutlineThatCrossesItselfIsRefused(t *testing.T) {
	t.Parallel()
	sheet := ground()
	c, err := sheet.Calibration()
	must(t, err)
	tie := plan.Hazard{ID: "hazard-1", Kind: plan.Crag, Closed: true}
	for _, at := range [][2]float64{{300, 300}, {400, 400}, {400, 300}, {300, 400}} {
		tie.Points = append(tie.Points, plan.PickedAt(sheet, c, calib.PicturePt{Col: at[0], Row: at[1]}, 0.5))
	}
	_, err = planfile.Decode(strings.NewReader(written(t, plan.New(plan.Date{}).SetSheet(sheet).AddHazard(tie))))
	if err == nil || !strings.Contains(err.Error(), "crag 1 crosses itself") {
		t.Errorf("a bow tie: %v", err)
	}
}
