package card

import (
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
)

// groundNotes are the notes that a walker needs on the leg, in few words for its row.
// {1} and {2} are the values of the caution.
var groundNotes = map[caution.Code]string{
	caution.SlipMeets:        "A mistake ({1}) leads {2}",
	caution.ConvexGround:     "Convex, {1}: you will not see the drop",
	caution.PassesHazard:     "Comes {1}, {2} from the start",
	caution.CrossesFord:      "Ford: {1}, {2} from the start",
	caution.LineInPlantation: "Line enters {1}, {2} from the start",
	caution.SteepBeside:      "Over-steep, {1}: {2}",
	caution.SteepLeg:         "Over-steep, {1}: {2}",
}

// inRow reports whether the row of a leg says what a note says.
func inRow(c caution.Code) bool {
	_, has := groundNotes[c]
	return has || c == caution.InTheDark
}

// notesOf are what the notes among cautions say of the ground, in few words, one for each, and
// where the leg crosses water.
func notesOf(list []caution.Caution, met leg.Met) (out []string) {
	for _, words := range met.CrossingWords() {
		out = append(out, words+".")
	}
	for _, c := range list {
		words, has := groundNotes[c.Code]
		if !has {
			continue
		}
		if c.Args[0] == "" {
			words = c.Short()
		}
		out = append(out, strings.NewReplacer("{1}", c.Args[0], "{2}", c.Args[1]).Replace(words)+".")
	}
	return out
}
