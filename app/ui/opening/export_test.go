package opening

import "io/fs"

// OnDrive puts something between the program and its files.
func (s *Source) OnDrive(drive func(fs.FS) fs.FS) { s.drive = drive }
