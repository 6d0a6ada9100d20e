package crs

import (
	"math"
	"strconv"
	"strings"

	"legwright/app/geodesy/datum"
	"legwright/app/geodesy/earth"
)

// readEllipsoid reads the ellipsoid from +ellps, +datum, or its numbers.
func (k projKeys) readEllipsoid(def *Definition) error {
	if name, ok := k["datum"]; ok {
		d := datumByProj(name)
		if d == nil {
			return Bad("+datum=%s is not known: give +ellps and +towgs84", shorten(name))
		}
		def.Ellipsoid, def.Known = d.Ellipsoid, d
		return k.agreeWith(d)
	}
	if name, ok := k["ellps"]; ok {
		e, known := earth.EllipsoidByProj(name)
		if !known {
			return Bad("+ellps=%s is not known: give +a and +rf", shorten(name))
		}
		def.Ellipsoid = e
		return k.refuseOther("ellps", "a", "b", "rf", "f")
	}
	if _, ok := k["a"]; !ok {
		return Bad("the definition has no ellipsoid: give +ellps, +datum, or +a and +rf")
	}
	return k.readRadii(def)
}

// agreeWith accepts keys beside +datum that say the same as the datum.
func (k projKeys) agreeWith(d *datum.Known) error {
	others := []string{"a", "b", "rf", "f", "nadgrids", baseKey, datumNameKey}
	if e, known := earth.EllipsoidByProj(k["ellps"]); !known || !SameEllipsoid(e, d.Ellipsoid) {
		others = append(others, "ellps")
	}
	if _, like := d.Datum.(datum.Like); !like || strings.Trim(k["towgs84"], "0,.") != "" {
		others = append(others, "towgs84")
	}
	return k.refuseOther("datum", others...)
}

// refuseOther refuses keys that would contradict another.
func (k projKeys) refuseOther(first string, others ...string) error {
	for _, other := range others {
		if _, ok := k[other]; ok {
			return Bad("the PROJ string has both +%s and +%s: give only one of them", first, other)
		}
	}
	return nil
}

func (k projKeys) readRadii(def *Definition) error {
	a, err := number("a", k["a"])
	if err != nil {
		return err
	}
	def.Ellipsoid = earth.Ellipsoid{A: a, Name: "an unnamed ellipsoid"}
	if text, ok := k["rf"]; ok {
		def.Ellipsoid.InvF, err = number("rf", text)
	} else if text, ok := k["f"]; ok {
		def.Ellipsoid.InvF, err = number("f", text)
		def.Ellipsoid.InvF = 1 / def.Ellipsoid.InvF
	} else if text, ok := k["b"]; ok {
		var b float64
		b, err = number("b", text)
		def.Ellipsoid.InvF = math.Abs(a) / (a - b)
	} else {
		return Bad("+a needs +rf or +b: the flattening is missing")
	}
	def.Ellipsoid = named(def.Ellipsoid)
	return err
}

// named gives an ellipsoid the name of the known one with the same numbers.
func named(e earth.Ellipsoid) earth.Ellipsoid {
	for _, d := range datum.All() {
		if SameEllipsoid(e, d.Ellipsoid) {
			return d.Ellipsoid
		}
	}
	return e
}

// readDatum reads the datum and its shift to WGS 84.
func (k projKeys) readDatum(def *Definition) error {
	if def.Known == nil {
		def.DatumName = cleanTitle(strings.ReplaceAll(k[datumNameKey], "_", " "))
	}
	if base, ok := k[baseKey]; ok {
		n, isCode := BareCode(base)
		if def.Known = datumByCode(n); !isCode || def.Known == nil || !SameEllipsoid(def.Known.Ellipsoid, def.Ellipsoid) {
			return Bad("+base=%s is not a known datum on this ellipsoid", shorten(base))
		}
		return nil
	}
	if text, ok := k["towgs84"]; ok && def.Known == nil {
		if err := readToWGS84(def, strings.Split(text, ",")); err != nil {
			return err
		}
	}
	switch files, ok := k["nadgrids"]; {
	case ok && files != "@null":
		def.readShiftFiles(files)
	case ok && def.Known == nil && def.ToWGS84 == nil: // PROJ reads it as no shift
		def.ToWGS84 = []float64{0, 0, 0}
	}
	return nil
}

func readToWGS84(def *Definition, parts []string) error {
	if len(parts) != 3 && len(parts) != 7 {
		return Bad("the shift to WGS 84 has %d numbers, but must have 3 or 7", len(parts))
	}
	for _, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !earth.Finite(v) {
			return Bad("the shift to WGS 84 has %q, which is not a number", shorten(p))
		}
		def.ToWGS84 = append(def.ToWGS84, v)
	}
	return nil
}

// readShiftFiles reads the names of shift files, never the files. The name of a
// published file identifies the datum, whose published shift is used. With any
// other name the shift stays as stated, or unknown. A stated shift of zero is only
// a filler besides the file.
func (def *Definition) readShiftFiles(list string) {
	files := strings.Split(list, ",")
	for _, f := range files {
		if d := datumByFile(f); d != nil && SameEllipsoid(d.Ellipsoid, def.Ellipsoid) {
			def.Known, def.ToWGS84, def.ShiftFile = d, nil, ""
			return
		}
	}
	if def.ZeroShift() {
		def.ToWGS84, def.ShiftFile = nil, cleanFile(strings.TrimPrefix(files[0], "@"))
	}
}

// cleanFile is a file's name without its folder, which exists on one machine only, and
// without characters that would end the key.
func cleanFile(name string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	clean := strings.Map(func(c rune) rune {
		if c > ' ' && c < 0x7f && c != '+' && c != '=' && c != ',' {
			return c
		}
		return -1
	}, name)
	if len(clean) > maxTitle {
		clean = clean[:maxTitle]
	}
	if clean == "" {
		return "unnamed"
	}
	return clean
}

func datumByFile(name string) *datum.Known {
	name = strings.ToLower(cleanFile(name))
	for _, f := range []struct {
		part string
		code int
	}{
		{"beta2007", 4314},
		{"chenyx06", 4149},
		{"bd72lb72", 4313},
		{"ostn15", 4277},
		{"ostn02", 4277},
		{"conus", 4267},
		{"ntv2_0", 4267},
		{"ntv1_can", 4267},
	} {
		if strings.Contains(name, f.part) {
			return datumByCode(f.code)
		}
	}
	return nil
}

func datumByProj(name string) *datum.Known {
	for _, d := range datum.All() {
		if d.Proj != "" && strings.EqualFold(d.Proj, name) {
			return &d
		}
	}
	return nil
}

func datumByCode(code int) *datum.Known {
	for _, d := range datum.All() {
		if d.Geographic == code {
			return &d
		}
	}
	return nil
}

// primeMeridian returns the longitude of +pm from Greenwich in degrees. Names
// are those of PROJ, with the longitudes of the EPSG dataset.
func (k projKeys) primeMeridian() (float64, error) {
	text, ok := k["pm"]
	if !ok {
		return 0, nil
	}
	if lon, known := meridianByName(text); known {
		return lon, nil
	}
	return projAngle("pm", text)
}

func meridianByName(name string) (lon float64, known bool) {
	lon, known = map[string]float64{
		"greenwich": 0,
		"paris":     2 + 20.0/60 + 14.025/3600,
		"lisbon":    -(9 + 7.0/60 + 54.862/3600),
		"bogota":    -(74 + 4.0/60 + 51.3/3600),
		"madrid":    -(3 + 41.0/60 + 16.58/3600),
		"rome":      12 + 27.0/60 + 8.4/3600,
		"bern":      7 + 26.0/60 + 22.5/3600,
		"jakarta":   106 + 48.0/60 + 27.79/3600,
		"ferro":     -(17 + 40.0/60),
		"brussels":  4 + 22.0/60 + 4.71/3600,
		"stockholm": 18 + 3.0/60 + 29.8/3600,
		"athens":    23 + 42.0/60 + 58.815/3600,
		"oslo":      10 + 43.0/60 + 22.5/3600,
	}[strings.ToLower(name)]
	return lon, known
}

// readUnit reads the unit of the printed coordinates, by name or in metres.
func (k projKeys) readUnit(def *Definition) error {
	size, sized, err := k.metresOfUnit()
	if err != nil {
		return err
	}
	name, named := k["units"]
	if named {
		v, known := unitByProj(name)
		switch {
		case !known && !sized:
			return Bad("+units=%s is not known: give the length of one unit in metres as +to_meter", shorten(name))
		case known && sized && math.Abs(size/v-1) > 1e-9:
			return Bad("+units=%s means %g m, but +to_meter says %g m: give only one of them", shorten(name), v, size)
		case known:
			size = v
		}
	}
	if named || sized {
		def.Unit = lengthUnit(size, "")
	}
	return nil
}

// metresOfUnit reads +to_meter, a number or a fraction.
func (k projKeys) metresOfUnit() (size float64, given bool, err error) {
	text, given := k["to_meter"]
	if !given {
		return 0, false, nil
	}
	over, under, fraction := strings.Cut(text, "/")
	if size, err = number("to_meter", over); err != nil || !fraction {
		return size, true, err
	}
	d, err := number("to_meter", under)
	return size / d, true, err
}

// usFootM is the US survey foot in metres.
const usFootM = 1200.0 / 3937

func unitByProj(name string) (metres float64, known bool) {
	metres, known = map[string]float64{
		"m":      1,
		"km":     1000,
		"dm":     0.1,
		"cm":     0.01,
		"mm":     0.001,
		"ft":     0.3048,
		"us-ft":  usFootM,
		"yd":     0.9144,
		"us-yd":  3 * usFootM,
		"ch":     20.1168,
		"us-ch":  66 * usFootM,
		"link":   0.201168,
		"ind-ft": 0.30479841,
		"ind-yd": 0.91439523,
		"kmi":    1852,
		"mi":     1609.344,
		"fath":   1.8288,
	}[name]
	return metres, known
}

// lengthUnit names a unit by its length; the digits of the US survey foot vary.
func lengthUnit(metres float64, name string) Unit {
	switch {
	case metres == 1:
		return Unit{"metre", 1}
	case metres == 1000:
		return Unit{"kilometre", 1000}
	case metres == 0.3048:
		return Unit{"foot", 0.3048}
	case math.Abs(metres-usFootM) < 1e-12:
		return Unit{"US survey foot", usFootM}
	case metres == 0.9144:
		return Unit{"yard", 0.9144}
	}
	if name = cleanTitle(name); name == "" {
		name = "unit of " + strconv.FormatFloat(metres, 'g', 10, 64) + " m"
	}
	return Unit{name, metres}
}
