// Package look is the bench's appearance as Fyne sees it: the palette of slate
// and ivory in a light and a dark variant, the spacing and the type scale, the
// fonts and the icons. It holds no widget and no text for people: the made
// widgets live in app/ui/widgets and app/ui/dial.
//
// Four rules keep the chrome quiet. The sheet is the only picture; panels are
// paper tones apart by a hairline and never by a box. There is one accent,
// heather, and it means "this is what the bench acts on now". Caution and fault
// have a colour of their own and always words beside it. Figures are set in one
// width, so that columns of bearings stand still while they change.
package look
