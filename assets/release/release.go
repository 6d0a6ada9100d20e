// Package release names the program and its version for everything that states them: the
// window, the headless commands, exported files and pages, the packages. It knows no more.
package release

// Version is that of FyneApp.toml; a test compares the two.
const Version = "0.1.0"

// Program is the name with the version, as a file names what wrote it.
const Program = "Legwright " + Version
