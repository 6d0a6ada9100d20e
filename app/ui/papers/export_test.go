package papers

// Die frees what the system frees when a process dies, and deletes nothing.
func (r *Room) Die() { _ = r.own.lock.Close() }

// Note is what the preview says was done.
func (r *Room) Note() string { return r.open.note }
