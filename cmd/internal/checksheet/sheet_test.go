package checksheet

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// TestTruthGoesBothWays: the way back from the picture, found by iteration, ends
// where the way there began, on every paper.
func TestTruthGoesBothWays(t *testing.T) {
	t.Parallel()
	for _, paper := range Papers() {
		dice := rand.New(rand.NewPCG(3, 4))
		for range 20 {
			s := Make(Recipe{Paper: paper, Layout: Spread, N: 4}, dice)
			for _, p := range Probes() {
				q := s.Truth.Picture(s.Truth.Grid(p))
				if off := math.Hypot(q.X-p.X, q.Y-p.Y); !(off < 1e-6) {
					t.Fatalf("%s: %v came back %g px off", paper, p, off)
				}
			}
		}
	}
}

// TestMakeIsRepeatable: the same dice make the same sheet, whose points lie where
// the truth has them, but for the clicks.
func TestMakeIsRepeatable(t *testing.T) {
	t.Parallel()
	for seed := range uint64(100) {
		r := Recipe{Paper: Papers()[seed%9], Layout: []Layout{Spread, Rows, RowAndOne, Clustered}[seed%4], N: 4}
		a, b := Make(r, rand.New(rand.NewPCG(seed, 1))), Make(r, rand.New(rand.NewPCG(seed, 1)))
		if len(a.Points) != r.N || len(b.Points) != r.N {
			t.Fatalf("%d and %d points, want %d", len(a.Points), len(b.Points), r.N)
		}
		for i, p := range a.Points {
			q := a.Truth.Picture(p.Ref)
			if p != b.Points[i] || math.Hypot(p.At.X-q.X, p.At.Y-q.Y) > 6*0.7 {
				t.Errorf("seed %d: point %d is %v, then %v; its true point is %v", seed, i, p, b.Points[i], q)
			}
		}
	}
}

// TestEvidenceMeansItsPlace compares the texts with what app/geodesy reads, whose
// letters are tested against published references.
func TestEvidenceMeansItsPlace(t *testing.T) {
	t.Parallel()
	dice := rand.New(rand.NewPCG(5, 6))
	for range 400 {
		s := Make(Recipe{Paper: Flat, Layout: Spread, N: 3}, dice)
		for _, k := range EvidenceKinds() {
			v, err := s.EvidenceAt(k, Pt{Width * dice.Float64(), Height * dice.Float64()})
			if err != nil {
				continue // no letters
			}
			sys, err := geodesy.Lookup(s.Code)
			if err != nil {
				t.Fatal(err)
			}
			ref, err := geodesy.ParseRef(v.Text, geodesy.RefContext{System: sys})
			if err != nil {
				t.Fatal(err)
			}
			c, _ := ref.Centre()
			if off := math.Hypot(c.E-v.Ref.E, c.N-v.Ref.N); off > k.FineM() || !k.LatLon() && off > 1e-6 {
				t.Errorf("%s %q is read %g m off", s.Code, v.Text, off)
			}
		}
	}
}

// TestSlipsMoveWhatTheySay: every kind of slip moves the points it names and no
// others, and the text with them.
func TestSlipsMoveWhatTheySay(t *testing.T) {
	t.Parallel()
	for _, k := range append(PointSlips(), AllSlips()...) {
		put := 0
		for seed := uint64(0); put < 10 && seed < 500; seed++ {
			s := Make(Recipe{Paper: Flat, Layout: Rows, N: 6}, rand.New(rand.NewPCG(seed, 2)))
			before := *s
			before.Points = append([]Point(nil), s.Points...)
			slip, ok := s.Put(k)
			if !ok {
				continue
			}
			put++
			moved := 0
			for i, p := range s.Points {
				if p.Ref != before.Points[i].Ref {
					moved++
				}
				if p.Text != Plain(p.Ref) {
					t.Errorf("%s: %q stands for %v", k, p.Text, p.Ref)
				}
			}
			named := s.Code != before.Code
			if moved != len(slip.Points) || named != (moved == 0) || named && !strings.HasPrefix(string(s.Code), "EPSG:") {
				t.Errorf("%s: %d points moved, the grid's name %v", slip, moved, named)
			}
		}
		if put < 10 {
			t.Errorf("%s: put in %d times", k, put)
		}
	}
}
