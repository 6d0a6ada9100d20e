package geodesy

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
)

// BKG's official points between DHDN and ETRS89 by BETA2007.gsb (as carried by
// PROJ's own tests), with the file itself: rows in latitude and longitude to
// 1e-9°, and those on the Gauss-Krüger zones of DHDN to 1 mm, as published.
func TestBETA2007(t *testing.T) {
	t.Parallel()
	n, err := ReadNTv2(referenceFile(t, "grid/BETA2007.gsb"))
	if err != nil {
		t.Fatal(err)
	}
	if n.From() != "DHDN90" || n.To() != "ETRS89" {
		t.Errorf("from %q to %q, want DHDN90 to ETRS89", n.From(), n.To())
	}
	checked := map[string]int{}
	for s := bufio.NewScanner(referenceFile(t, "grid/ntv2_beta2007_dhdn_etrs89.tsv")); s.Scan(); {
		f := strings.Split(s.Text(), "\t")
		if len(f) < 6 || strings.HasPrefix(f[0], "in_") {
			continue
		}
		in, okIn := betaPlace(t, f[0], f[1], f[2])
		want, okOut := betaPlace(t, f[3], f[4], f[5])
		if !okIn || !okOut {
			checked["left out: "+f[2]+" to "+f[5]]++
			continue
		}
		lead := n.Forward
		if strings.HasPrefix(f[2], "ETRS89") {
			lead = n.Backward
		}
		got, ok := lead(in)
		if !ok {
			t.Errorf("%s: outside the file", s.Text())
			continue
		}
		tol := 1e-9
		if !strings.Contains(f[2]+f[5], "Lat-Lon") || f[2][len(f[2])-7:] != f[5][len(f[5])-7:] {
			tol = 1e-8 // 1 mm
		}
		near(t, s.Text()+" latitude", got.Lat.Deg(), want.Lat.Deg(), tol)
		near(t, s.Text()+" longitude", got.Lon.Deg(), want.Lon.Deg(), 1.6*tol)
		checked["checked"]++
	}
	t.Logf("rows: %v", checked)
	if checked["checked"] < 31 {
		t.Errorf("only %v rows could be checked", checked)
	}
}

// betaPlace reads a place of the table in latitude and longitude, or on a zone
// of DHDN or of ETRS89 by its easting.
func betaPlace(t *testing.T, a, b, system string) (LatLon, bool) {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	if errX != nil || errY != nil {
		t.Fatalf("%s %s is no place", a, b)
	}
	switch {
	case strings.HasSuffix(system, "Lat-Lon"):
		return DegLatLon(y, x), true
	case strings.HasPrefix(system, "DE_DHDN_3GK") && x >= 2e6 && x < 6e6:
		ll, _, err := mustLookup(31464 + int(x/1e6)).Unproject(Grid{E: x, N: y})
		return ll, err == nil
	case strings.HasPrefix(system, "ETRS89_UTM32") && x < 1e6:
		ll, _, err := mustLookup(25832).Unproject(Grid{E: x, N: y})
		return ll, err == nil
	case strings.HasPrefix(system, "ETRS89_UTM33") && x < 1e6:
		ll, _, err := mustLookup(25833).Unproject(Grid{E: x, N: y})
		return ll, err == nil
	}
	return LatLon{}, false
}

// madeNTv2 writes a file of two grids, the denser one inside the other, whose
// shifts are linear, so that interpolation is exact: latitude by 1" a degree of
// latitude, longitude west by 2" a degree of westward longitude; the denser
// one adds 0.5" to the latitude.
func madeNTv2(order binary.ByteOrder) []byte {
	var b bytes.Buffer
	rec := func(name string, v any) {
		value := make([]byte, 8)
		switch x := v.(type) {
		case int:
			order.PutUint32(value, uint32(x))
		case float64:
			order.PutUint64(value, math.Float64bits(x))
		case string:
			copy(value, x+"        ")
		}
		b.WriteString((name + "        ")[:8])
		b.Write(value)
	}
	rec("NUM_OREC", 11)
	rec("NUM_SREC", 11)
	rec("NUM_FILE", 2)
	rec("GS_TYPE", "SECONDS")
	rec("VERSION", "1")
	rec("SYSTEM_F", "MADE")
	rec("SYSTEM_T", "WGS84")
	for _, name := range []string{"MAJOR_F", "MINOR_F", "MAJOR_T", "MINOR_T"} {
		rec(name, 6.4e6)
	}
	grid := func(name, parent string, s, n, e, w, inc, add float64) {
		rec("SUB_NAME", name)
		rec("PARENT", parent)
		rec("CREATED", "")
		rec("UPDATED", "")
		for _, v := range []float64{s, n, e, w, inc, inc} {
			rec("LIMIT", v*3600)
		}
		rows, cols := int(math.Round((n-s)/inc))+1, int(math.Round((w-e)/inc))+1
		rec("GS_COUNT", rows*cols)
		for r := range rows {
			for c := range cols {
				lat, west := s+float64(r)*inc, e+float64(c)*inc
				for _, v := range []float64{lat + add, 2 * west, 0.3, 0.3} {
					var node [4]byte
					order.PutUint32(node[:], math.Float32bits(float32(v)))
					b.Write(node[:])
				}
			}
		}
	}
	grid("WIDE", "NONE", 50, 54, -12, -8, 1, 0)
	grid("DENSE", "WIDE", 51, 52, -10, -9, 0.25, 0.5)
	rec("END", "")
	return b.Bytes()
}

func TestNTv2OrdersAndGrids(t *testing.T) {
	t.Parallel()
	for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
		n, err := ReadNTv2(bytes.NewReader(madeNTv2(order)))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name        string
			lat, lon    float64
			dLat, dWest float64 // seconds
			ok          bool
		}{
			{"wide", 53.3, 11.4, 53.3, -22.8, true},
			{"dense", 51.6, 9.37, 52.1, -18.74, true},
			{"corner", 50, 8, 50, -16, true},
			{"other corner", 54, 12, 54, -24, true},
			{"north of it", 54.01, 10, 0, 0, false},
			{"west of it", 52, 7.99, 0, 0, false},
		} {
			in := DegLatLon(c.lat, c.lon)
			got, ok := n.Forward(in)
			if ok != c.ok {
				t.Errorf("%v %s: inside %v, want %v", order, c.name, ok, c.ok)
			}
			near(t, c.name+" latitude", got.Lat.Deg(), c.lat+c.dLat/3600, 1e-9)
			near(t, c.name+" longitude", got.Lon.Deg(), c.lon-c.dWest/3600, 1e-9)
			if !ok || strings.Contains(c.name, "corner") {
				continue
			}
			if back, ok := n.Backward(got); !ok || math.Abs(back.Lat.Deg()-c.lat) > 1e-11 || math.Abs(back.Lon.Deg()-c.lon) > 1e-11 {
				t.Errorf("%v %s: back to %v, %v", order, c.name, back, ok)
			}
		}
	}
}

func TestBadNTv2IsRefused(t *testing.T) {
	t.Parallel()
	good := madeNTv2(binary.LittleEndian)
	change := func(at int, value byte) []byte {
		out := bytes.Clone(good)
		out[at] = value
		return out
	}
	nan := bytes.Clone(good)
	binary.LittleEndian.PutUint32(nan[22*16:], math.Float32bits(float32(math.NaN())))
	for name, data := range map[string][]byte{
		"empty": nil, "text": []byte("NUM_OREC is what it begins with, no more"),
		"cut in the head": good[:100], "cut in the nodes": good[:22*16+50],
		"no order": change(8, 12), "no unit": change(3*16+8, 'X'), "too many grids": change(2*16+10, 0x7f),
		"count lies": change(21*16+8, 26), "NaN": nan, "no parent": bytes.Replace(good, []byte("PARENT  WIDE"), []byte("PARENT  GONE"), 1),
		"own parent": bytes.Replace(good, []byte("PARENT  NONE"), []byte("PARENT  WIDE"), 1),
	} {
		if _, err := ReadNTv2(bytes.NewReader(data)); !errors.Is(err, ErrNotNTv2) {
			t.Errorf("%s: got %v, want ErrNotNTv2", name, err)
		}
	}
	n, err := ReadNTv2(bytes.NewReader(good))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := SupplyShifts(n); err == nil {
		t.Error("a file of an unknown datum was taken into use")
	}
	if _, err := ReadNTv2(io.LimitReader(zeros{}, 1<<10)); !errors.Is(err, ErrNotNTv2) {
		t.Errorf("zeros: %v", err)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// Whatever is read neither panics nor leads a place to what is none.
func FuzzNTv2(f *testing.F) {
	f.Add(madeNTv2(binary.LittleEndian))
	f.Add(madeNTv2(binary.BigEndian))
	f.Fuzz(func(t *testing.T, data []byte) {
		n, err := ReadNTv2(bytes.NewReader(data))
		if err != nil {
			return
		}
		for _, at := range []LatLon{DegLatLon(51.6, 9.37), DegLatLon(53, 11), DegLatLon(0, 0)} {
			if got, ok := n.Forward(at); ok && !(finite(float64(got.Lat)) && finite(float64(got.Lon))) {
				t.Errorf("led to %v", got)
			}
			n.Backward(at)
		}
	})
}

// NAD27's shift is chosen by the place, and the others are those published.
func TestShiftsOfTheWorld(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		epsg     int
		lat, lon float64
		name     string
		sigmaM   float64
	}{
		{26713, 39, -105, "three-parameter shift (NAD27, 48 states)", 5},
		{26712, 55, -111, "three-parameter shift (NAD27, Canada)", 10},
		{26706, 64, -147, "three-parameter shift (NAD27, Alaska)", 6},
		{26714, 20, -99, "three-parameter shift (NAD27, Mexico)", 6},
		{26913, 39, -105, "NAD83 taken as WGS 84", 2},
		{2056, 47, 8, "three-parameter shift (swisstopo)", 0.5},
		{31370, 50.5, 5, "seven-parameter shift (IGN Belgium)", 0.5},
		{31467, 50, 9, "seven-parameter shift (BKG, western Germany)", 1.5},
		{2154, 45, 6, "RGF93 taken as WGS 84", 0.5},
		{7855, -42, 147, "GDA2020 taken as WGS 84", 1.5},
		{32630, 57, -4, "none needed", 0},
	} {
		s := mustLookup(c.epsg)
		g, _, shift, err := s.FromWGS84(DegLatLon(c.lat, c.lon))
		if err != nil || shift.Name != c.name || shift.SigmaM != c.sigmaM {
			t.Errorf("EPSG:%d: got %+v, %v, want %q %g", c.epsg, shift, err, c.name, c.sigmaM)
		}
		back, _, err := s.ToWGS84(g)
		if err != nil {
			t.Fatal(err)
		}
		near(t, s.name+" back latitude", back.Lat.Deg(), c.lat, 1e-10)
		near(t, s.name+" back longitude", back.Lon.Deg(), c.lon, 1e-10)
	}
}
