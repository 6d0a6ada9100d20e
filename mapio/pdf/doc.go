// Package pdf draws pages of PDF documents as pictures and reads what their
// dictionaries say about where a map on them lies. It interprets no coordinate
// system, fills in no forms, runs no scripts, follows no links and writes
// nothing.
//
// # Two readers
//
// Pages are drawn by PDFium, compiled to WebAssembly and run inside the
// process by wazero: it sees no file and no network, only the bytes of the
// document. An Engine starts it when the first document is opened and keeps
// the machine code it is translated to in a folder, so that only the first
// start takes seconds. The build has no script engine and no form environment
// is made.
//
// A page may call a form that calls a form, and so on: a few kilobytes can ask
// for any amount of memory and time. So the renderer has a fixed amount of
// memory, mapped outside the heap (linear.go), each of its loops looks whether
// it is to stop (interrupt.go), and a document whose renderer ran short or was
// stopped is closed. One document is open in it at a time.
//
// The dictionaries are read here (structure.go), because a reader that takes
// in whole documents can be made to fill any memory: only the objects on the
// way from the trailer to the page and its map are looked up, within a budget
// of bytes read and unpacked. Where they cannot be read, as in a protected
// document, and PDFium can draw it, the page is shown without its place.
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
// Where the two leave room the reading is that of GDAL 3.6, against which the
// tests hold it.
package pdf
