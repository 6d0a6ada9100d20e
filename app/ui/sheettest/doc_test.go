// Package sheettest tests the whole window with pictures of maps: how they open, several
// sheets in one plan, pages, overlays, the pointer over them and their export. It stands apart
// from app/ui so that the packages of window tests run side by side.
package sheettest
