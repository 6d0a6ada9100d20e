package ui

// conceal hides wherever the group can see what tells the bearing or the length of a
// line, or shows it again: every room of the window that writes figures is named here.
func (b *Bench) conceal(on bool) {
	b.frame.dial.Conceal(on)
	b.view.Conceal(on)
	b.ledger.Conceal(on)
	b.route.Conceal(on)
	b.escapeP.Conceal(on)
	b.foot.Conceal(on)
	b.frame.papers.Conceal(on)
	b.teach.panel.Conceal(on)
	b.frame.arrange(b.view.Strip()) // the strip is as wide as what it says
}
