// Package atomicfile writes a file whole or not at all, with one policy for
// every file that the program leaves on a person's disk.
//
// The new content goes to a hidden temporary file in the same folder, is synced to
// the disk, and then replaces the old file in one step. After an error, a full disk
// or a kill the old file is unchanged.
//
//   - A file that replaces another has the permissions of that one. A new file
//     has what the umask leaves of 0666. Owner, group and access lists are those
//     of whoever writes.
//   - A symbolic link stays: the file behind it is replaced, or made.
//   - Folders, devices, pipes and sockets are refused.
//   - A read-only file is refused with *ReadOnly, for the caller to ask about,
//     and replaced only with Options.ReadOnly.
//   - The folder is synced, as far as the system can.
//
// A killed process leaves its temporary file behind. The name says which process
// made it, so the next write in the folder removes files whose process has ended,
// or that were not touched for an hour, but never one that is being written.
package atomicfile
