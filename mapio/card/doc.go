// Package card says what stands on the papers of a plan, and lays them out. What a paper
// says is made first, as plain words: Of turns a reader's plan into a Content, which knows no
// page. A form then puts parts of it on pages of mapio/paper. It reads no files, and computes
// no figure of its own: bearings, distances, times and cautions are those of app/leg and
// app/escape, in the words in which the window and the headless commands write them.
//
// Make is the way from a plan to a file, for window and headless alike: an Order says which paper,
// a Beside gives what the plan does not hold.
//
// # What is rounded how
//
// Printed figures close in the head: printed magnetic = printed grid − printed GMA. The GMA of
// the heading is that of the first leg, rounded; a leg whose two printed bearings differ by
// another step says so in its row (Leg.GMA). The figure to set, SET, and the back bearing are
// for the same compass, each with the declination of its own end.
//
// # What no paper can leave out
//
// Content.Stops goes on every page: DRAFT with the escapes that are not ticked, "sheet
// unchecked", and every stop in few words. An escape with a leg in a danger, closer to one than the
// distance to keep, or over over-steep ground is not a way off: Of refuses it with a *Dangerous.
// Whoever prints may leave it out, and the paper then says so. A DRAFT is printed and says that
// it is one.
//
// # Which plan
//
// A paper carries the plan number (see planfile.Number) and when the plan was saved, or "not
// saved", so that the leader's card and the one left at home can be compared.
//
// # Leg cards
//
// LegCards puts one leg on a card to cut out. Number and names of the leg, the figure to set and
// what is counted stand on the first card of a leg together; the rest may follow on another.
//
// # Who is out
//
// Names, phones and medical notes of people are not part of a plan. They come in as a Home when
// a base sheet is made, and no other form prints any of it. No emergency number is assumed from a
// country: a base sheet is refused without one, other cards leave a line to fill in by hand.
package card
