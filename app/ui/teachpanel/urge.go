package teachpanel

// urge says in the foot line what to do, until it is done or something else is said.
func (n *Needs) urge(text string) {
	n.Foot.Say(text)
	n.urged = text
}

// refuse says why nothing was done and what to do first, until that is done.
func (n *Needs) refuse(err error) {
	n.Foot.Fail(err)
	n.urged = n.Foot.Message()
}

// obeyed takes what was to be done out of the foot line.
func (n *Needs) obeyed() {
	if n.urged != "" && n.Foot.Message() == n.urged {
		n.Foot.Say("")
	}
	n.urged = ""
}
