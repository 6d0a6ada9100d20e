// Package pdf draws pages of PDF documents as pictures and reads what their
// dictionaries say about where a map on them lies. It interprets no coordinate
// system, fills in no forms, runs no scripts, follows no links and writes
// nothing.
//
// # Two readers
//
// Pages are drawn by PDFium, compiled to WebAssembly and run inside the
// process by wazero: it sees no file and no network, only the bytes of the
// document. An Engine starts it with the first document and keeps its compiled
// machine code in a folder, so that only the first start takes seconds. The build
// has no script engine, and no form environment is made.
//
// A page may call a form that calls a form, and so on: a few kilobytes can ask for
// any amount of memory and time. So the renderer has a fixed amount of memory
// outside the heap (linear.go), each of its loops returns to Go from time to time
// and checks whether to stop (interrupt.go), and a document is closed if its
// renderer ran out of memory or was stopped. The renderer opens one document at a
// time.
//
// The dictionaries are read here (structure.go), because a hostile document can
// make a reader of whole documents fill any memory. Only the objects from the
// trailer to the page and its map are looked up, within a budget of bytes read and
// unpacked. If they cannot be read, as in a protected document, but PDFium can draw
// the page, it is shown without its georeference.
//
// # Coordinates
//
// User space is that of ISO 32000-2, 8.3.2.3: units of 1/72 inch times
// UserUnit, x right and y up before the page is turned by Rotate. Pictures are
// those of the house: columns right, rows down, (0, 0) the top-left corner of
// the first pixel of the page as it is shown. The page's box (crop box within
// media box) fills the picture exactly.
//
// # Sources
//
// ISO 32000-2:2020, 7 (syntax), 12.9 (measurement properties, geospatial features) and
// OGC 08-139r3, "PDF Geo-registration Encoding Best Practice Version 2.2".
// Where the two are ambiguous, this package follows GDAL 3.6, and the tests compare
// it with GDAL.
package pdf
