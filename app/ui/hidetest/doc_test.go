// Package hidetest tests that hidden figures stay hidden everywhere in the window, and the
// window for the group. It stands apart from app/ui so that the packages of window tests run
// side by side.
package hidetest
