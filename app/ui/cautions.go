package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/ask"
)

// cautions are shown once at the first run, and from the Help menu at any time. They
// are common practice among mountain leaders; no single source.
func cautions() []string {
	return []string{
		"This is a planning aid. It does not know the ground as it is today: the weather, the snow, the stream in spate or the new fence.",
		"Carry a paper map and a compass, and know how to use both without this program.",
		"Check every bearing by eye against the map before you walk on it. A wrong bearing is plain on the map long before it is on the hill.",
		"A sheet is unchecked until a feature that was not used to calibrate it agrees. Two points with the same mistake fit perfectly.",
		"Keep metal, magnets and phones away from the compass. On some ground it is wrong whatever you do.",
		"The ground overrules the plan. Turn back early.",
		"Follow local access rules and guidance. Go with a qualified leader where the party or the law needs one.",
		"Leave your route and the time you will be back with somebody.",
	}
}

// showCautions shows the cautions.
func (b *Bench) showCautions() { b.readCautions(nil) }

// readCautions shows the cautions. Once the person says that they are understood, they
// are not shown unasked again, and then is called, which may be nil.
func (b *Bench) readCautions(then func()) {
	list := container.NewVBox()
	for _, c := range cautions() {
		l := widget.NewLabel("–  " + c)
		l.Wrapping = fyne.TextWrapWord
		list.Add(l)
	}
	b.dialogs.Show("Before you walk", list, fyne.NewSize(620, 460), ask.Answer{Text: "Understood", Default: true, Do: func() {
		b.set.setWelcomed()
		if then != nil {
			then()
		}
	}})
}
