// Package lessontest tests the whole window while somebody teaches: the Teach panel and the
// compass. It stands apart from app/ui so that the packages of window tests run side by side.
package lessontest
