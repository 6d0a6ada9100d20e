package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/assets/notices"
	"legwright/assets/release"
)

// help shows what the Help menu offers.
type help struct {
	app     fyne.App
	dialogs *ask.Dialogs
	line    *foot.Line
	set     *settings
	figures *figures
}

// cautions are shown once at the first run, and from the Help menu at any time. They
// are common practice among mountain leaders; no single source.
func cautions() []string {
	return []string{
		"This is a planning aid. It does not know the ground as it is today: the weather, the snow, the stream in spate or the new fence.",
		"Carry a paper map and a compass, and know how to use both without this program.",
		"Check every bearing by eye against the map before you walk on it. A wrong bearing is plain on the map long before it is on the hill.",
		"A sheet is unchecked until it agrees with a feature that was not used to calibrate it. Two points with the same mistake fit perfectly.",
		"Keep metal, magnets and phones away from the compass. On some ground the compass is wrong whatever you do.",
		"The ground overrules the plan. Turn back early.",
		"Follow local access rules and guidance. Go with a qualified leader if the party needs one or the law requires one.",
		"Tell somebody your route and when you will be back.",
	}
}

// cautions shows the cautions.
func (h *help) cautions() { h.readCautions(nil) }

// readCautions shows the cautions. Once the person says that they are understood, they
// are not shown unasked again, and then is called, which may be nil.
func (h *help) readCautions(then func()) {
	list := container.NewVBox()
	for _, c := range cautions() {
		list.Add(widgets.NewWrapped("–  " + c))
	}
	h.dialogs.Show("Before you walk", list, fyne.NewSize(620, 460), ask.Answer{Text: "Understood", Default: true, Do: func() {
		h.set.setWelcomed()
		if then != nil {
			then()
		}
	}})
}

// keys lists the keys that no menu can show.
func (h *help) keys() {
	rows := [][2]string{
		{"Drag", "read a bearing from a position to a feature"},
		{"L, S, E, Esc", "keep the reading as a leg, sight or escape, or discard it"},
		{"Wheel", "zoom in and out at the pointer"},
		{"Middle button, or Space and drag", "move the sheet"},
		{"Double click", "set a mark; on a leg, bring the whole leg into view"},
		{"Arrow keys", "move the cursor on the sheet; with Shift, ten times as far"},
		{"Return on the sheet", "begin or end a line at the cursor: a bearing without a mouse"},
		{"Arrow keys in the enlargement", "move by a tenth of a pixel; with Shift by one, with Alt by ten"},
		{"Tab, Shift+Tab", "go to the next control, or back to the one before"},
		{"Ledger: arrows, letters, Tab", "choose a cell; type over it; go on to the next"},
		{"Ledger: Delete, Menu, Esc", "delete the leg; open its menu; go to the sheet"},
		{"Ctrl+L, Ctrl+J", "go to the ledger; go to the sheet"},
		{"Escape: click, Return, Backspace", "draw a hazard, haven, line or area point by point; end it; delete the last point"},
		{"Teach: Page Down, Page Up", "show the hidden figures or the next line; go back a line"},
		{"Teach: H, N", "hide or show the figures; switch between grid, magnetic and true north"},
		{"Teach: G, F, A", "ask for a guess; draw the guesses; show the answer"},
		{"Teach: B, D, C, M", "guess the bearing, distance, climb or minutes"},
		{"Teach: T", "guess by turning the dial"},
		{"Teach, On a bearing: digits, F", "type a bearing; choose your own position with a click"},
		{"Teach, Two people: digits, F, P", "type a bearing; choose a person's position with a click; go to the other person"},
		{"Teach, Compass: 1 to 4, 0", "show the compass after that step, or before the first"},
		{"Teach, Compass: W, M", "repeat the steps with the next mistake; switch between map to ground and ground to map"},
	}
	h.dialogs.Show("Keys", container.NewVScroll(pairList(rows)), fyne.NewSize(640, 470))
}

// pairList sets names beside their explanations.
func pairList(rows [][2]string) fyne.CanvasObject {
	grid := container.New(&pairLayout{})
	for _, r := range rows {
		name := widgets.NewWrapped(r[0])
		name.TextStyle.Bold = true
		grid.Add(name)
		grid.Add(widgets.NewWrapped(r[1]))
	}
	return grid
}

// pairLayout sets pairs side by side, the first of each a third as wide.
type pairLayout struct{}

// MinSize is as high as the pairs in their widths.
func (l *pairLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for i := 0; i+1 < len(o); i += 2 {
		h += max(o[i].MinSize().Height, o[i+1].MinSize().Height)
	}
	return fyne.NewSize(420, h)
}

// Layout places the pairs.
func (l *pairLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	y, left := float32(0), size.Width*0.38
	for i := 0; i+1 < len(o); i += 2 {
		h := max(o[i].MinSize().Height, o[i+1].MinSize().Height)
		widgets.Put(o[i], 0, y, left, h)
		widgets.Put(o[i+1], left, y, size.Width-left, h)
		y += h
	}
}

// notices shows the notices of data and fonts carried in the program.
func (h *help) notices() {
	text := widgets.NewPages(strings.Join(notices.All(), "\n\n— — —\n\n"), 660)
	h.dialogs.Show("Sources and licences", container.NewVScroll(text), fyne.NewSize(720, 560))
}

// changes shows what each version brought, item by item.
func (h *help) changes() {
	scroll := container.NewVScroll(changeList(notices.Changes()))
	h.dialogs.Show("What is new", scroll, fyne.NewSize(720, 560))
}

// changeList sets the items of the list of changes beside their names, under a heading
// for each version. Everything else is a paragraph.
func changeList(text string) fyne.CanvasObject {
	list := container.NewVBox()
	for paragraph := range strings.SplitSeq(text, "\n\n") {
		var rows [][2]string
		for line := range strings.SplitSeq(paragraph, "\n") {
			if name, about, ok := strings.Cut(strings.TrimPrefix(line, "- **"), ".** "); ok {
				rows = append(rows, [2]string{name, about})
			}
		}
		version, heading := strings.CutPrefix(paragraph, "## ")
		switch {
		case rows != nil:
			list.Add(pairList(rows))
		case heading:
			title := widgets.NewWrapped("Version " + version)
			title.TextStyle.Bold = true
			list.Add(title)
		case !strings.HasPrefix(paragraph, "# "):
			list.Add(widgets.NewWrapped(strings.TrimSpace(paragraph)))
		}
	}
	return list
}

// about shows the version.
func (h *help) about() {
	text := release.Program + "\nA bench for people who navigate by map and compass.\n\n" +
		"A planning aid: the ground, the weather and a qualified leader overrule it."
	h.dialogs.Tell("About", text)
}

// diagnostics lists what the program does with the picture and with memory, for
// somebody who wants to know why it is slow or large.
func (h *help) diagnostics() {
	rows := h.figures.rows()
	pairs := make([][2]string, len(rows))
	for i, r := range rows {
		pairs[i] = [2]string{r.name, r.value}
	}
	scroll := container.NewVScroll(pairList(pairs))
	scroll.SetMinSize(fyne.NewSize(600, 400))
	h.dialogs.QuestionOver("Diagnostics", scroll, nil,
		ask.Answer{Text: "Copy as text", Do: func() {
			h.app.Clipboard().SetContent(figureText(rows))
			h.line.Say("Copied the diagnostics.")
		}},
		ask.Answer{Text: "Close", Default: true})
}
