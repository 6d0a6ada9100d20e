package foot_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/foot"
	"legwright/app/ui/look"
)

func TestSentence(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ in, want string }{
		{"no such mark", "No such mark."},
		{"walk.png: not a picture", "walk.png: not a picture."},
		{"is it right?", "Is it right?"},
		{"élan is up", "Élan is up."},
		{"", ""},
	} {
		if got := foot.Sentence(errors.New(c.in)); got != c.want {
			t.Errorf("Sentence(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

// A scale bar is a round length, at most 120 DIP wide and not under a quarter
// of that.
func TestScaleBar(t *testing.T) {
	t.Parallel()
	for _, perPx := range []float64{0.03, 0.5, 1, 2.54, 7, 15.8, 100, 1234} {
		for _, scale := range []float64{1, 1.5, 2} {
			label, width := foot.ScaleBar(perPx, scale)
			if width > 120.01 || width < 30 {
				t.Errorf("%v m a pixel at %v: bar of %v DIP, want 30 to 120", perPx, scale, width)
			}
			if !strings.HasSuffix(label, "m") {
				t.Errorf("%v m a pixel: label %q", perPx, label)
			}
		}
	}
	if label, width := foot.ScaleBar(2.5, 1); label != "200 m" || math.Abs(float64(width)-80) > 0.01 {
		t.Errorf("2.5 m a pixel: %q, %v, want 200 m, 80", label, width)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if label, width := foot.ScaleBar(bad, 1); label != "" || width != 0 {
			t.Errorf("%v m a pixel: %q, %v, want no bar", bad, label, width)
		}
	}
}

// line is a foot line of a width, in DIP.
func line(t *testing.T, width float32) *foot.Line {
	t.Helper()
	test.NewTempApp(t)
	l := foot.New()
	l.Resize(fyne.NewSize(width, foot.Height))
	return l
}

func TestSeveralErrorsStandOnOneLine(t *testing.T) {
	l := line(t, 900)
	l.Fail(errors.Join(errors.New("remove a.sheet: denied"), errors.New("remove\tb.sheet: denied")))
	if got, want := l.Drawn(foot.PartMessage).Text, "Remove a.sheet: denied; remove b.sheet: denied."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Why an act was refused stands until the next act; a hint covers a message, but
// not that.
func TestARefusedActStaysUntilTheNext(t *testing.T) {
	l := line(t, 900)
	changes := 0
	l.OnChange(func() { changes++ })
	shown := func() string { return l.Drawn(foot.PartMessage).Text }
	l.Say("Mark set.")
	l.Hint("Undo")
	if shown() != "Undo" || l.Message() != "Mark set." {
		t.Errorf("with a hint it shows %q, and the message is %q", shown(), l.Message())
	}
	l.Fail(errors.New("no such mark"))
	if shown() != "No such mark." || !l.Failed() || l.Drawn(foot.PartMessage).Color != look.Current()[look.Fault] {
		t.Errorf("refused under a hint: shows %q, failed %v", shown(), l.Failed())
	}
	l.Hint("")
	l.Fail(nil)
	if shown() != "No such mark." {
		t.Errorf("later it shows %q", shown())
	}
	if l.Try(errors.New("not there"), "done"); !l.Failed() {
		t.Error("a refused Try does not count as failed")
	}
	if !l.Try(nil, "") || l.Failed() || l.Message() != "" {
		t.Errorf("after the next act: failed %v, %q", l.Failed(), l.Message())
	}
	l.Say("Leg kept.")
	if !l.Try(nil, "") || l.Message() != "Leg kept." {
		t.Errorf("an act without a sentence leaves %q, want the one before", l.Message())
	}
	if changes != 5 {
		t.Errorf("%d changes of the message, want 5", changes)
	}
}

// In a narrow window the reason of a refused act takes the space of what may go,
// and never that of the check.
func TestARefusedActIsReadableInANarrowWindow(t *testing.T) {
	l := line(t, 853)
	l.SetPointer(foot.Pointer{Ref: "NL 20145 40162", LatLon: "56.431682°N 7.105923°W"})
	l.SetQuality(foot.Quality{Text: "5 points, typical residual 3.1 m (0.8 px)", Check: "sheet unchecked", Unchecked: true})
	const why = "The reference lies 12 km off the sheet: check its letters and digits."
	l.Fail(errors.New(why))
	if got := l.Drawn(foot.PartMessage).Text; got != why {
		t.Errorf("the message is cut to %q", got)
	}
	if check := l.Drawn(foot.PartCheck); check.Hidden || !l.Drawn(foot.PartRef).Hidden {
		t.Errorf("check hidden %v, reference hidden %v, want only the reference", check.Hidden, l.Drawn(foot.PartRef).Hidden)
	}
}

// A hint takes the space of what may go, never that of the check, and gives it back.
func TestAHintIsReadableInANarrowWindow(t *testing.T) {
	l := line(t, 853)
	l.SetPointer(foot.Pointer{Ref: "NL 20145 40162", LatLon: "56.431682°N 7.105923°W"})
	l.SetQuality(foot.Quality{Text: "5 points, typical residual 3.1 m (0.8 px)", Check: "sheet unchecked", Unchecked: true})
	const hint = "Drag to make the ledger higher or lower, or move it by half a row  (Up, Down)"
	l.Hint(hint)
	if got := l.Drawn(foot.PartMessage).Text; got != hint {
		t.Errorf("the hint is cut to %q", got)
	}
	if l.Drawn(foot.PartCheck).Hidden {
		t.Error("the hint hides whether the sheet is checked")
	}
	l.Hint("")
	if l.Drawn(foot.PartQuality).Hidden || l.Drawn(foot.PartRef).Hidden {
		t.Error("the quality and the reference stay hidden after the hint")
	}
}

// With the pointer off the sheet a long message stands whole, for its end may say what not
// to walk on; with the pointer on the sheet the position comes back, and the message keeps that end.
func TestALongMessageIsReadOffTheSheet(t *testing.T) {
	l := line(t, 853)
	l.SetQuality(foot.Quality{Text: "5 points, typical residual 3.1 m (0.8 px)", Check: "sheet unchecked", Unchecked: true})
	const did = "Exported a.gpx: 2 routes (legs 1–6, 7); 1 of 7 legs marked STOP, not to be walked."
	l.Say(did)
	if got := l.Drawn(foot.PartMessage).Text; got != did {
		t.Errorf("the message is cut to %q", got)
	}
	if l.Drawn(foot.PartCheck).Hidden {
		t.Error("the message hides whether the sheet is checked")
	}
	l.SetPointer(foot.Pointer{Ref: "NL 20145 40162", LatLon: "56.431682°N 7.105923°W"})
	if l.Drawn(foot.PartCheck).Hidden || l.Drawn(foot.PartRef).Hidden {
		t.Error("the message hides the position under the pointer")
	}
	if got := l.Drawn(foot.PartMessage).Text; !strings.HasPrefix(got, "Export…") || !strings.HasSuffix(got, " legs marked STOP, not to be walked.") {
		t.Errorf("with the pointer on the sheet the message is cut to %q", got)
	}
	for _, name := range []string{"Loch Skeorra", "The long wall between the head of the burn and the old sheepfold"} {
		l.Say(name + " deleted. Undo restores it.")
		got := l.Drawn(foot.PartMessage)
		if !strings.HasPrefix(got.Text, name[:4]) || !strings.HasSuffix(got.Text, "deleted. Undo restores it.") || got.X+got.Width > 853 {
			t.Errorf("%s: the message is cut to %q", name, got.Text)
		}
	}
	l.Say("Opened. Crags lower than about 25 m do not show. ground.asc: on latitude and longitude, −20 to 20 m high.")
	if got := l.Drawn(foot.PartMessage).Text; !strings.HasPrefix(got, "Opened. Crags lower than about 25 m do not show.") {
		t.Errorf("the caution at the beginning is cut: %q", got)
	}
	l.Say("Leg kept.")
	if l.Drawn(foot.PartQuality).Hidden || l.Drawn(foot.PartRef).Hidden {
		t.Error("a short message hides the quality")
	}
	l.Resize(fyne.NewSize(640, foot.Height)) // narrower than any window: little room, and still the way back
	l.Say("Loch Skeorra deleted. Undo restores it.")
	if got := l.Drawn(foot.PartMessage).Text; !strings.HasSuffix(got, "Undo restores it.") || !strings.Contains(got, "…") {
		t.Errorf("in a narrow line the message is cut to %q", got)
	}
}

// What an act says is read although the pointer still rests on the control that did it:
// that may be gone, and would leave its hint behind.
func TestAnActsWordsReplaceTheHint(t *testing.T) {
	l := line(t, 1280)
	l.Hint("Delete control point 2")
	l.Say("Control point 2 deleted.")
	if got := l.Drawn(foot.PartMessage).Text; got != "Control point 2 deleted." {
		t.Errorf("the line shows %q", got)
	}
}
