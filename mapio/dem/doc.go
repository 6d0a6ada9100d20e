// Package dem reads height models into tiles of app/terrain: .hgt files of 1″ and 3″,
// plain or alone in a zip archive, GeoTIFF with heights as whole numbers or floating point,
// and Esri ASCII grids. Of each it keeps the posts of the ground that is wanted and a
// ring of one post round it, so that a file of any extent can be read. It writes
// nothing, opens no files and answers no questions about the ground.
//
// # What a file does not say
//
// No file is asked for a guess. Heights are metres unless the caller says feet; a
// GeoTIFF whose keys name the other unit is refused. An ASCII grid does not name its grid, so
// the caller must, by the .prj file beside it or by asking. An .hgt file has no header at all: its name says where its south-west
// corner lies, and its size how close its posts stand.
//
// # Faults
//
// Sizes are checked against the limit and against the length of the file before memory is
// taken. What is damaged or cut off within the ground that is wanted is an
// error, and then there is no tile. Heights below −500 m mark no ground that anybody
// walks on and come as voids; heights above 9,000 m are refused, since they
// are not metres.
//
// # Sources
//
// The .hgt layout is that of NASA's SRTM (big-endian 16-bit metres from the north-west,
// posts on the grid lines of WGS 84, −32768 for a void); GeoTIFF is OGC 19-008r4 by
// mapio/tiff; the Esri ASCII grid is that of Esri's ARC/INFO, as GDAL's AAIGrid reads it.
package dem
