// Package georef makes a georeference of what a file says about where its picture
// lies: the tags of a GeoTIFF, the ground overlay of a KML file, the dictionaries of a
// PDF page, or a world file with a .prj file beside the picture. Package scan reads
// the files; this package finds the grid and the transform. A georeference checks
// nothing: a file can be as wrong as a click.
//
// Transforms are in the corner convention: column right, row down, in pixels, (0, 0) the
// top-left corner of the top-left pixel of the picture as shown. World files speak of
// the centre of the first stored pixel, and are converted when they are read.
package georef
