package sheetpanel

import (
	"fmt"

	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// counted writes a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// referenceWords say how a reference was understood: of a feature that checks the sheet
// it means the middle of its square.
func referenceWords(s *session.Session, r session.Reference, feature bool) (string, widgets.Tone) {
	at, part, places := r.Grid, "the south-west corner", 0
	if feature {
		at, _ = r.Centre()
		part = "the middle"
		if r.Read.SquareM == 1 {
			places = 1
		}
	}
	text := fmt.Sprintf("E %.*f, N %.*f", places, at.E, places, at.N)
	sys, err := s.Reader().SystemOf(r.Code)
	if err == nil && sys.Unit().Name != "metre" {
		if ref, err := sys.FormatRef(at, 10); err == nil {
			text = ref
		}
	}
	if r.Read.SquareM > 0 {
		text += fmt.Sprintf(": %s of its %s square", part, lattice.SideWords(r.Read.SquareM, sys))
	}
	if err == nil && r.GridGuessed {
		text += ". The grid is assumed to be " + sys.Name()
	}
	if r.LettersInferred {
		words, tone := suppliedWords(s, r)
		return text + ". " + words, tone
	}
	return text + ".", widgets.Note
}

// suppliedWords say of a reference typed without its letters as what it was read, and
// where the letters came from.
func suppliedWords(s *session.Session, r session.Reference) (string, widgets.Tone) {
	read := "This position is off the grid."
	if ref, err := s.ReferenceOf(plan.Position{Code: r.Code, Grid: r.Grid}, 10); err == nil {
		read = "The full reference is " + ref + "."
	}
	hand := sheetOf(s)
	if r.LettersFrom == hand.ID && len(hand.Points) > 0 && !hand.RestsOnFile() {
		return read + " The letters come from the sheet's other control points.", widgets.Note
	}
	words, g := s.Reader().LettersSource(plan.Position{Origin: plan.Typed, Code: r.Code, Grid: r.Grid, LettersFrom: r.LettersFrom})
	text := read + " The letters were not typed; they come from " + words + "."
	if g != caution.None {
		return text + " Type them to be sure.", widgets.Caution
	}
	return text, widgets.Note
}

func sentence(err error) string { return foot.Sentence(err) }
