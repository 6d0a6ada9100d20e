// Package benchsheet makes the big sheets that the speed figures and the
// window tests are measured on: scans of the demo's look at any size, in
// several encodings. They are made once and kept in the user's cache folder
// under a name that carries the version of the drawing, so that a change of
// the drawing makes new ones. It is not the demo's own drawing (that is
// cmd/demosheet) and nothing the program itself uses.
//
// The texture comes from the demo scan: its inner part is repeated in mirror
// image, so that no seam is seen, along paths that are bent by long waves,
// with some grain of its own. So lines, figures and paper grain stand in
// every part as densely as on the scan, but no part repeats another exactly.
//
// libvips (Debian package libvips-tools) does the encoding; only the plain
// JPEG can be had without it.
package benchsheet
