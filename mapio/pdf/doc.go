// Package pdf draws pages of PDF documents as pictures and reads what their
// dictionaries say about where a map on them lies. It interprets no coordinate
// system, fills in no forms, runs no scripts, follows no links and writes
// nothing.
//
// # Two readers
//
// Pages are drawn by PDFium, compiled to WebAssembly and run inside the
// process by wazero: it sees no file and no network, only the bytes of the
// document, and its memory is bounded. An Engine starts it when the first
// document is opened and keeps the machine code it is translated to in a
// folder, so that only the first start takes seconds. The build has no script
// engine and no form environment is made.
//
// The dictionaries are read by pdfcpu. Where it cannot read a document that
// PDFium can draw, the page is shown without its place.
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
// ISO 32000-2:2020, 12.9 (measurement properties, geospatial features) and
// OGC 08-139r3, "PDF Geo-registration Encoding Best Practice Version 2.2".
// Where the two leave room the reading is that of GDAL 3.6, against which the
// tests hold it.
package pdf
