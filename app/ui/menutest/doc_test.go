// Package menutest tests the menus of the whole window, every entry of them on the demo too,
// which takes longest. It stands apart from app/ui so that the packages of window tests run
// side by side.
package menutest
