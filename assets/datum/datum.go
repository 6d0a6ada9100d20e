// Package datum carries the embedded grids of datum shifts as bytes. It reads
// nothing and knows nothing of geodesy; app/geodesy decodes them.
//
// # The layout of OSTN15()
//
// Little endian throughout. The header:
//
//	offset 0   8 bytes   "LWSHIFT1"
//	       8   uint16    columns (701)
//	      10   uint16    rows (1251)
//	      12   uint16    cell side in metres (1000)
//	      14   uint16    rows in a band (32; the last band has fewer)
//	      16   int32     millimetres to add to every easting shift
//	      20   int32     millimetres to add to every northing shift
//	      24   uint32    bands, then for each its offset from the file's start
//
// Values are whole millimetres from 0 to 65535 before the addition. A band holds its rows from the south, in each
// row first the easting shifts and then the northing shifts, column by column
// from the west. A value is predicted from its neighbours in the same band
// (west + south − south-west; west alone in the band's first row; south alone
// in the first column; 0 for the very first) and the difference d is written
// as u = 2d or −2d−1 by a Rice code: each half row begins with 4 bits k, then
// for each value u>>k ones, a zero and the k low bits of u. Where u>>k would
// be 20 or more, 20 ones and no zero are followed by 20 bits of u. Bits fill
// bytes from the lowest; each band begins on a byte and is followed by eight
// spare bytes before the next.
//
// generate.go makes the file from the Debian package
// libgeo-coordinates-osgb-perl:
//
//	go run generate.go /usr/share/perl5/auto/share/dist/Geo-Coordinates-OSGB
package datum

import _ "embed"

//go:embed ostn15.lwshift
var ostn15 string

// OSTN15 returns the Ordnance Survey's OSTN15 shifts from ETRS89 to OSGB36 on
// the National Grid, 0…700 km east and 0…1250 km north at every kilometre, in
// the layout described above. The notice that goes with them is in
// assets/notices/datum-ostn15.txt.
func OSTN15() string { return ostn15 }
