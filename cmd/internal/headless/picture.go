package headless

import (
	"strings"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

const pictureHelp = `
Says what a picture is, and where its file places it: by the tags of a GeoTIFF, a ground
overlay of a KML or KMZ file, a PDF's georeference, or a world file with a .prj next to the
picture. It reads no pixels and checks nothing: locate compares what the file says with the
printed grid.

--json writes:
  format, width, height, dpi, channels, bit_depth, page, pages
  orientation: 1 to 8, as stored
  georeference: {source,grid,unknown,matrix or points,cautions}, or null if there is none
  at [{easting_m,northing_m,lat_deg,lon_deg,sigma_e_m,sigma_n_m,cov_en_m2,trusted,
      outside_points_px}]
  checked: always null
  cautions [{code,grade,subject,affects,text}]

The help of fit explains matrix, at and trusted.
`

func pictureCommand() command {
	return command{
		name:  "picture",
		usage: "FILE [--page N] [--dpi N] [--at COL,ROW]... [--json]",
		about: "say what a picture is, and where its file places it",
		run:   runPicture,
	}
}

func runPicture(c command, args []string, s streams) error {
	o := newOptions(c, pictureHelp)
	var q struct {
		pictureFlags
		at     atFlag
		asJSON bool
	}
	q.pageFlags(o, drawnDPI)
	o.Var(&q.at, "at", "a point `COL,ROW` of the picture to convert; may be repeated")
	o.BoolVar(&q.asJSON, "json", false, "write JSON")
	names, err := o.read(args, s)
	switch {
	case err != nil:
		return err
	case len(names) != 1:
		return usagef("name one picture, not %d", len(names))
	}
	q.picture = names[0]
	if err := q.checkPage(); err != nil {
		return err
	}
	d, err := look(&q.pictureFlags)
	if err != nil {
		return err
	}
	found := georef.Find(d)
	h, p, cautions := d.Header, found.Georeference, worldFault(found)
	var positions []located
	if len(q.at) > 0 {
		fit, err := p.Calibration(h)
		if err != nil {
			return err
		}
		if positions, err = convert(fit, p.System, q.at); err != nil {
			return err
		}
	}
	if p != nil && p.System != nil {
		cautions = append(cautions, positionCautions(p.System, positions)...)
	}
	if p != nil && p.System != nil {
		cautions = append(cautions, caution.Of(caution.Unchecked))
	}
	if p != nil && len(ofFile(p.Cautions, q.picture)) > 0 {
		cautions = append(cautions, ofFile(p.Cautions, q.picture)...)
		distrust(positions)
	}
	speakAll(cautions, q.asJSON, s)
	if q.asJSON {
		return writeJSON(s.out, pictureObject(h, p, positions, cautions))
	}
	t := pictureTable(h, p, positions)
	t.cautions = cautions
	return t.write(s.out)
}

func pictureObject(h scan.Header, p *georef.Georeference, positions []located, cautions []caution.Caution) object {
	o := object{
		{"format", h.Format},
		{"width", h.Width},
		{"height", h.Height},
		{"orientation", h.Orientation},
		{"dpi", number(h.DPI)},
		{"channels", h.Channels},
		{"bit_depth", h.BitDepth},
		{"page", max(1, h.Page)},
		{"pages", max(1, h.Pages)},
	}
	if p == nil {
		o.add("georeference", nil)
	} else {
		o.add("georeference", georefObject(p))
	}
	list := []object{}
	for _, a := range positions {
		list = append(list, a.object())
	}
	o.add("at", list)
	o.add("checked", nil)
	o.add("cautions", cautionList(cautions))
	return o
}

func georefObject(p *georef.Georeference) object {
	o := object{{"source", p.Source}}
	if p.System == nil {
		o.add("grid", nil)
		o.add("unknown", p.Unknown)
	} else {
		o.add("grid", string(p.System.Code()))
	}
	if p.Matrix != nil {
		o.add("matrix", numberList(p.Matrix[:]))
	}
	if len(p.Points) > 0 {
		o.add("points", pointList(p.Points))
	}
	remarks := make([]caution.Caution, 0, len(p.Notes))
	for _, w := range p.Notes {
		remarks = append(remarks, caution.Of(caution.FileRemark, w))
	}
	o.add("cautions", cautionList(remarks))
	return o
}

func pointList(points []calib.ControlPoint) []object {
	list := make([]object, len(points))
	for i, c := range points {
		list[i] = object{
			{"col", number(c.At.Col)},
			{"row", number(c.At.Row)},
			{"easting_m", number(c.Ref.E)},
			{"northing_m", number(c.Ref.N)},
		}
	}
	return list
}

func pictureTable(h scan.Header, p *georef.Georeference, positions []located) table {
	var t table
	t.line("picture", "%s, %d × %d pixels, %d × %d bits per pixel", h.Format, h.Width, h.Height, h.Channels, h.BitDepth)
	if h.DPI > 0 {
		t.line("resolution", "%.0f pixels per inch", h.DPI)
	}
	if h.Pages > 1 {
		t.line("page", "%d of %d", h.Page, h.Pages)
	}
	switch {
	case p == nil:
		t.line("georeference", "none in the file")
	case p.System == nil:
		t.line("georeference", "%s: %s", p.Source, p.Unknown)
	default:
		t.line("georeference", "%s, on %s; unchecked", p.Source, p.System)
	}
	if p != nil && len(p.Notes) > 0 {
		t.line("caution", "%s", strings.Join(p.Notes, "; "))
	}
	for _, a := range positions {
		a.line(&t)
	}
	return t
}
