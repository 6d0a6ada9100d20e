package teachpanel

import (
	"fyne.io/fyne/v2"

	"legwright/canvas/tool"
)

// picks are the features that a click adds to a job's list, and which mark or feature of
// the list is chosen.
type picks struct {
	n        *Needs
	features features
	chosen   string // key of what is chosen, "" for nothing
	changed  func() // the list is another one
	choice   func() // something else is chosen
}

// add adds a feature that is no mark, and chooses it.
func (p *picks) add(at tool.Spot) {
	end, err := p.n.View.EndAt(at)
	if err == nil && p.features.full() {
		err = errFullOfFeatures()
	}
	if !p.n.Foot.Try(err, "") {
		return
	}
	p.chosen = featureKey + p.features.add(p.n.Session.Plan().Resolve(end))
	p.changed()
	p.n.Foot.Say("Added to the list. To delete it, press the Delete key.")
}

// remove removes a feature that is no mark.
func (p *picks) remove(key string) {
	if p.features.remove(key) {
		p.chosen = ""
		p.changed()
		p.n.View.Focus()
	}
}

// choose chooses a mark or feature. Choosing it again leaves it.
func (p *picks) choose(key string) {
	if p.chosen == key {
		key = ""
	}
	p.chosen = key
	p.choice()
}

// key takes a key pressed on the sheet, and reports whether it was one for the list:
// Delete, and the two of a presenter, which go through it. Delete never goes on to the
// plan: the leg that may be selected is not what the group looks at.
func (p *picks) key(e *fyne.KeyEvent, list *judgedList) bool {
	switch e.Name {
	case fyne.KeyDelete, fyne.KeyBackspace:
		if p.features.has(p.chosen) {
			p.remove(p.chosen)
			break
		}
		p.n.Foot.Say("Choose a feature that you added, then press the Delete key.")
	case fyne.KeyPageDown:
		list.walk(p.chosen, 1)
	case fyne.KeyPageUp:
		list.walk(p.chosen, -1)
	default:
		return false
	}
	return true
}
