package widgets

// PanelWidth is how wide the column of the panels is, in DIP.
const PanelWidth = float32(328)

// RowWidth is how much of it a row of a panel's list has: all but the margins and a
// scroll bar.
const RowWidth = PanelWidth - 24 - 9
