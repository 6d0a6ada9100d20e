package figures

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
)

// coefficient is one row of a magnetic model: Schmidt semi-normalised, nT and
// nT a year.
type coefficient struct {
	n, m         int
	g, h, dg, dh float64
}

// writePeerModel writes the model in the two files that GeographicLib's
// MagneticField reads (format WMMF-1 in that library's documentation), so
// that both programs evaluate the same coefficients.
func writePeerModel(dir, name string, epoch float64, rows []coefficient) error {
	const id = "LEGWPEER"
	meta := fmt.Sprintf(`WMMF-1
# The same coefficients that the program embeds, for a comparison of speed.
Name %s
Description World Magnetic Model
ReleaseDate 2024-11-13
Radius 6371200
NumModels 1
Epoch %g
DeltaEpoch 5
MinTime %g
MaxTime %g
MinHeight -1000
MaxHeight 850000
Type linear
Normalization schmidt
ByteOrder little
ID %s
`, name, epoch, epoch, epoch+5, id)
	if err := os.WriteFile(filepath.Join(dir, name+".wmm"), []byte(meta), 0o644); err != nil {
		return err
	}
	var b bytes.Buffer
	b.WriteString(id)
	writeSeries(&b, rows, func(c coefficient) (float64, float64) { return c.g, c.h })
	writeSeries(&b, rows, func(c coefficient) (float64, float64) { return c.dg, c.dh })
	return os.WriteFile(filepath.Join(dir, name+".wmm.cof"), b.Bytes(), 0o644)
}

// writeSeries writes degree, order, then the cosine and the sine coefficients
// column by column.
func writeSeries(b *bytes.Buffer, rows []coefficient, of func(coefficient) (g, h float64)) {
	const degree = 12
	var g, h [degree + 1][degree + 1]float64
	for _, c := range rows {
		g[c.n][c.m], h[c.n][c.m] = of(c)
	}
	put := func(v any) { _ = binary.Write(b, binary.LittleEndian, v) } // a buffer does not fail
	put([2]int32{degree, degree})
	for m := 0; m <= degree; m++ {
		for n := m; n <= degree; n++ {
			put(g[n][m])
		}
	}
	for m := 1; m <= degree; m++ {
		for n := m; n <= degree; n++ {
			put(h[n][m])
		}
	}
}
