package demo

import _ "embed"

// File names under which the pictures, their truth and the plan go when they are written out.
const (
	SheetName   = "halvasay-sheet.png"
	ScanName    = "halvasay-scan.jpg"
	TruthName   = "truth.json"
	PlanName    = "halvasay.legplan"
	TerrainName = "halvasay-terrain.tif"
)

//go:embed halvasay-sheet.png
var sheet []byte

//go:embed halvasay-scan.jpg
var scan []byte

//go:embed halvasay-terrain.tif
var terrain []byte

//go:embed halvasay.legplan
var plan []byte

// Plan returns the demo plan as the text of a plan file; its sheet is the embedded scan. The
// caller must not change the bytes.
func Plan() []byte { return plan }

// Sheet returns the clean sheet as a PNG file. The caller must not change the bytes.
func Sheet() []byte { return sheet }

// Terrain returns the heights of the ground inside the neat line as a GeoTIFF file: posts 20 m apart
// on the sheet's grid. The caller must not change the bytes.
func Terrain() []byte { return terrain }

// Scan returns the scan of the sheet as a JPEG file. The caller must not change the bytes.
func Scan() []byte { return scan }
