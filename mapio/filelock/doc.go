// Package filelock locks open files, so that one run of the program sees which files of other
// runs are in use. The system releases a lock when its process dies, however it dies.
package filelock
