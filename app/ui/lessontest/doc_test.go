// Package lessontest tests the whole window while somebody teaches: hidden figures, the Teach
// panel, the compass and the window for the group. It stands apart from app/ui so that the
// packages of window tests run side by side.
package lessontest
