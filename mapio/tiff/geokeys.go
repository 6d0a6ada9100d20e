package tiff

import "strings"

// Keys of the standard that Geo gives a field of its own.
const (
	keyModelType          = 1024
	keyRasterType         = 1025
	keyCitation           = 1026
	keyGeographicCRS      = 2048
	keyGeographicCitation = 2049
	keyProjectedCRS       = 3072
	keyProjectedCitation  = 3073
)

// maxKeys bounds the keys that are read.
const maxKeys = 1024

// readKeys reads the key directory: a head of version, revision, minor
// revision and number of keys, then for each its number, where its value is
// (0 for here, or a tag), how many values, and the value or its place.
func (g *Geo) readKeys(d *directory) {
	v, err := d.whole(tagGeoKeys, 4+4*maxKeys)
	if err != nil || len(v) > 0 && len(v) < 4 {
		g.note("the list of GeoTIFF keys cannot be read")
		return
	}
	if len(v) == 0 {
		return
	}
	doubles := g.doubles(d, tagGeoDoubles, 4*maxKeys)
	text := d.text(tagGeoASCII, 1<<16)
	n := v[3]
	for v = v[4:]; len(v) >= 4 && n > 0; v, n = v[4:], n-1 {
		k := Key{ID: int(v[0] & 0xffff)}
		count, at := v[2], v[3]
		switch v[1] {
		case 0:
			k.Numbers = []float64{float64(at)}
		case tagGeoDoubles:
			if at+count > uint64(len(doubles)) {
				g.note("the value of GeoTIFF key %d is missing", k.ID)
				continue
			}
			k.Numbers = doubles[at : at+count]
		case tagGeoASCII:
			k.Text = cutText(text, at, count)
		default:
			g.note("the value of GeoTIFF key %d is stored in an unknown tag", k.ID)
			continue
		}
		g.Keys = append(g.Keys, k)
	}
	g.nameFields()
}

// cutText takes a text out of all texts, without the bar that closes it.
func cutText(all string, at, count uint64) string {
	n := uint64(len(all))
	at = min(at, n)
	return strings.TrimSpace(strings.TrimRight(all[at:min(at+count, n)], "|\x00"))
}

func (g *Geo) nameFields() {
	whole := func(id int) int {
		v, _ := g.Number(id)
		if !(v >= 0 && v <= 65535) {
			return 0
		}
		return int(v)
	}
	g.Model = Model(whole(keyModelType))
	g.PointRaster = whole(keyRasterType) == 2
	g.ProjectedCRS, g.GeographicCRS = whole(keyProjectedCRS), whole(keyGeographicCRS)
	g.Citation, g.ProjectedCitation, g.GeographicCitation = g.Text(keyCitation), g.Text(keyProjectedCitation), g.Text(keyGeographicCitation)
}

// Number gives the first value of a key that is a number.
func (g *Geo) Number(id int) (value float64, ok bool) {
	for _, k := range g.Keys {
		if k.ID == id && len(k.Numbers) > 0 {
			return k.Numbers[0], true
		}
	}
	return 0, false
}

// Text gives the text of a key, "" where it has none.
func (g *Geo) Text(id int) string {
	for _, k := range g.Keys {
		if k.ID == id && k.Text != "" {
			return k.Text
		}
	}
	return ""
}
