package benchsheet

import "image"

// version names the drawing and the encoding. Change it with either.
const version = "v1"

// Kind is one way of encoding a sheet.
type Kind string

// The encodings: JPEG baseline with 4:2:0 chroma, progressive JPEG with 4:2:0
// chroma, baseline without subsampling, PNG, and TIFF in tiles of 256 pixels,
// deflated, with reduced pages down to one tile.
const (
	JPEG        Kind = "jpg"
	Progressive Kind = "prog.jpg"
	JPEG444     Kind = "444.jpg"
	PNG         Kind = "png"
	TIFF        Kind = "tif"
)

// Kinds lists all encodings.
func Kinds() []Kind { return []Kind{JPEG, Progressive, JPEG444, PNG, TIFF} }

// Size returns the sides in pixels of a sheet of about so many megapixels, in
// the proportions of an A1 sheet read at 600 dots per inch. Three hundred
// gives 14,000 × 21,430.
func Size(megapixels int) image.Point {
	switch megapixels {
	case 3:
		return image.Pt(1400, 2143)
	case 50:
		return image.Pt(5716, 8750)
	case 192:
		return image.Pt(11200, 17143)
	default:
		return image.Pt(14000, 21430)
	}
}

// vipsArgs is what libvips is told to do with a picture in the file from.
func (k Kind) vipsArgs(from, to string) []string {
	switch k {
	case Progressive:
		return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "on", "--interlace"}
	case JPEG444:
		return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "off"}
	case PNG:
		return []string{"pngsave", from, to, "--compression", "6", "--filter", "all"}
	case TIFF:
		return []string{
			"tiffsave", from, to, "--tile", "--tile-width", "256", "--tile-height", "256",
			"--pyramid", "--compression", "deflate", "--predictor", "horizontal",
			"--xres", "23.622", "--yres", "23.622",
		}
	}
	return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "on"}
}
